%
O0906 (FACE GROOVES BY NAMES)
G21 G17 G40 G49 G80 G90
#<count>=4
#<depth>=1.5
#<way>=60.
#<step>=12.
T3 M6 (END MILL D5 3FL CENTRE CUTTING)
G0 G54 X0. Y0. S7000 M3
G43 H3 Z20. M8
#<n>=0
WHILE [#<n> LT #<count>] DO1
G0 X0. Y[#<n>*#<step>]
Z1.
G1 Z-#<depth> F150.
X#<way> F500.
G0 Z5.
#<n>=[#<n>+1]
END1
G0 Z20. M9
M5
G91 G28 Z0.
G90
M30
%
