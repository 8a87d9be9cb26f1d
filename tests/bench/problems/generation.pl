% Two nodes are of one generation when they are siblings, or when their parents are.
:- table same/2.
same(X,Y) :- parent(P,X), parent(P,Y), X \== Y.
same(X,Y) :- parent(P,X), same(P,Q), parent(Q,Y).
count(N) :- aggregate_all(count, same(_,_), N).
