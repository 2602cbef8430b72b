; bearing strip, bronze
; zero: left, middle, top
G 21 G 17 G 40 G 80 G 49 G 90

T 4 M 6          ; drill 6
G 54
S 1800 M 3       ; right
G 0 X 10.0 Y 0.0
G 43 H 4 Z 20.0
M 8
; three oil holes
G 81 X 10.0 Y 0.0 Z -15.0 R 2.0 F 150
X 35.0
X 60.0
G 80
G 0 Z 100.0
M 9
M 5
M 2
