; All that is reached from a node over edges.
(defrule direct (edge ?x ?y) => (assert (path ?x ?y)))
(defrule onward (path ?x ?y) (edge ?y ?z) => (assert (path ?x ?z)))
