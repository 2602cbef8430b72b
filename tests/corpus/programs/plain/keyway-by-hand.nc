(keyway 8 P9 x 40 x 4 deep in shaft 30, in the vee blocks)
(slot drill 7.8 down the middle, then 8 wide by offset)
g21 g17 g40 g49 g80 g90
t3 m6 (slot drill 7.8)
g0 g54 x4 y0 s1200 m3
g43 h3 z20
m8
z1
g1 z-2 f60
x36 f120
z-4 f60
x4 f120
(walls)
g41 d3 y-4 f80
x36
g3 x36 y4 r4
g1 x4
g3 x4 y-4 r4
g1 x6
g40 y0
g0 z50
m9
m5
m30
