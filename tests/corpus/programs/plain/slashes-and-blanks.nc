// support foot, grey iron
// done by the night shift


G21 G90 G17 G40 G49 G80


T7 M6 (25 MM END MILL, 5 TEETH)

G54 G0 X-20. Y12.
S600 M3
G43 H7 Z30.


Z1.
G1 Z-1.5 F200
X120. F260

// second step
Y36.
X-20.

G0 Z150.
M5
M30
