%
O6201 (Hülle, Aluminium 50 × 30: Tasche Ø 16, Tiefe 6 ±0,1)
(Nullpunkt: Mitte, Oberseite)
G21 G17 G40 G49 G80 G90
T1 M6 (SCHAFTFRÄSER D10 Z3)
G0 G54 X0. Y0. S5000 M3
G43 H1 Z30.
M8
Z1.
(spiralig auf Tiefe: 6 Umgänge zu 1 mm)
G1 Z0. F300.
X3. F400.
G3 Z-1. I-3. J0.
G3 Z-2. I-3. J0.
G3 Z-3. I-3. J0.
G3 Z-4. I-3. J0.
G3 Z-5. I-3. J0.
G3 Z-6. I-3. J0.
G3 I-3. J0.
(fertig: Maß schlichten)
G1 X0.
G0 Z30.
M9
M5
G91 G28 Z0.
G90
M30 (完)
%
