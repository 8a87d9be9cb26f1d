% All that is reached from a node over edges.
:- table path/2.
path(X,Y) :- edge(X,Y).
path(X,Z) :- path(X,Y), edge(Y,Z).
count(N) :- aggregate_all(count, path(_,_), N).
