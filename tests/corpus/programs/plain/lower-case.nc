%
o0007
(clamp jaw, mild steel 60 x 25 x 20, slot 10 wide through)
g21 g17 g40 g49 g80 g90
t2 m6 (8 mm end mill, 3 flute)
g54 g0 x-8. y12.5 s1400 m3
g43 h2 z25.
m8
z2.
(rough in three steps, climb on the way back)
g1 z-2. f400.
x68. f210.
g0 z2.
x-8. y12.5
g1 z-4. f400.
x68. f210.
g0 z2.
x-8. y12.5
g1 z-6. f400.
x68. f210.
(the two walls, 1 mm each)
g1 y13.5
x-8. f260.
y11.5
x68.
g0 z25.
m9
m5
g91 g28 z0
g90
m30
%
