; Two nodes are of one generation when they are siblings, or when their parents are.
(defrule siblings (parent ?p ?x) (parent ?p ?y&~?x) => (assert (same ?x ?y)))
(defrule cousins (same ?p ?q) (parent ?p ?x) (parent ?q ?y) => (assert (same ?x ?y)))
