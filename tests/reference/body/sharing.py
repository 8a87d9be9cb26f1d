# SPDX-License-Identifier: GPL-3.0-or-later
"""Solves the sharing problems that sharing.c prints a second time, in their primal form and with
another method: the interior-point solver for convex programmes of CVXOPT (Debian's python3-cvxopt;
its cp() follows Nesterov and Todd's scaling; friction cones are its second-order cones).

  minimise    sum of weight * cost(share)          cost(x) = x^3 + 3 s x^2 with s as the engine
  subject to  sum of weight * force * gives = asked        rounds it, and with s = 0
              share >= 0 unless a strand gives in both senses
              |tangential force| <= friction * normal force at every contact

Reads standard input. With the rounding, the engine's answer must give what is asked, must cost no
more than the other optimum, and its shares must be the same within SAME; the optimum without the
rounding shows what the rounding is worth, and must lie within ROUNDING."""

import sys

import numpy
from cvxopt import matrix, solvers, spmatrix

SAME = 1e-3  # of a capacity: cubes are flat near nothing, where costs that agree leave shares free
DEARER = 1e-6  # of the cost
GIVEN = 1e-6  # of the largest moment or force asked
ROUNDING = 0.1  # of a capacity: what the rounding of corners, that of contacts above all, may change
solvers.options.update(show_progress=False, abstol=1e-9, reltol=1e-9, feastol=1e-9, maxiters=200)


def read_problems(lines):
    problems = []
    for line in lines:
        kind, *words = line.split()
        if kind == "problem":
            numbers = [float(w) for w in words[1:]]
            problems.append({"name": words[0], "place": numbers[0], "exponent": numbers[1],
                             "smooth": numbers[2], "soft": numbers[3],
                             "asked": numpy.array(numbers[5:]), "strands": [], "supports": []})
        else:
            problems[-1][kind + "s"].append([float(w) for w in words])
    return problems


class Programme:
    """One problem: shares of the strands first, then three parts a support, as shares too."""

    def __init__(self, problem, rounded):
        strands, supports = problem["strands"], problem["supports"]
        self.n, self.m = len(strands), len(supports)
        self.size = self.n + 3 * self.m
        self.weights = numpy.array([s[2] for s in strands] + [s[1] for s in supports])
        s = problem["smooth"] if rounded else 0.0
        soft = problem["soft"] if rounded else 0.0
        self.s = numpy.array([s] * self.n + [soft] * self.m)
        self.rows = numpy.zeros((len(problem["asked"]), self.size))
        self.cones, self.flat = [], []
        for i, strand in enumerate(strands):
            for row, gives in zip(strand[4::2], strand[5::2]):
                self.rows[int(row), i] += strand[2] * strand[0] * gives
        for i, support in enumerate(supports):
            self.add_support(self.n + 3 * i, support)
        self.one_way = [i for i, strand in enumerate(strands) if not strand[1]]
        self.asked = problem["asked"]

    def add_support(self, at, support):
        capacity, weight, pull, friction = support[:4]
        normal, usual = numpy.array(support[4:7]), numpy.array(support[7:10])
        gives = numpy.array(support[13:]).reshape(-1, 4)
        for row, *slope in gives:
            self.rows[int(row), at:at + 3] += weight * capacity * numpy.array(slope)
        if not pull:
            level = numpy.eye(3) - numpy.outer(normal, normal)
            self.cones.append((at, numpy.vstack([friction * normal, level]) * capacity,
                               numpy.concatenate([[friction * (normal @ usual)], level @ usual])))

    def equalities(self):
        """Rows that depend on others, or give nothing, are left out: the solver needs full rank."""
        scale = numpy.maximum(numpy.abs(self.rows).max(axis=1), 1e-9)
        u, d, vt = numpy.linalg.svd(self.rows / scale[:, None], full_matrices=False)
        kept = d > 1e-10 * d[0]
        left = (u.T @ (self.asked / scale))
        assert numpy.abs(left[~kept]).max(initial=0) < 1e-6, "nothing gives what is asked"
        return matrix(vt[kept]), matrix(left[kept] / d[kept])

    def inequalities(self):
        cells, sides, dims = [], [0.0] * len(self.one_way), {"l": len(self.one_way), "q": [], "s": []}
        for k, i in enumerate(self.one_way):
            cells.append((-1.0, k, i))
        for at, rows, side in self.cones:
            start = len(sides)
            cells += [(-rows[j, k], start + j, at + k) for j in range(4) for k in range(3)]
            sides += list(side)
            dims["q"].append(4)
        values, where, which = zip(*cells)
        return spmatrix(values, where, which, (len(sides), self.size)), matrix(sides), dims

    def lengths(self, x):
        parts = x[self.n:].reshape(-1, 3)
        return numpy.concatenate([numpy.abs(x[:self.n]), numpy.sqrt((parts ** 2).sum(axis=1))])

    def cost(self, x=None, z=None):
        if x is None:
            return 0, matrix(0.1, (self.size, 1))
        x = numpy.array(x).ravel()
        r = self.lengths(x)
        value = (self.weights * (r ** 3 + 3 * self.s * r ** 2)).sum()
        stiff = self.weights * (3 * r + 6 * self.s)
        each = numpy.concatenate([stiff[:self.n], numpy.repeat(stiff[self.n:], 3)])
        slope = matrix((each * x).reshape(1, -1))
        if z is None:
            return matrix(value, (1, 1)), slope
        bend = numpy.diag(each)
        for i in range(self.n):
            bend[i, i] += 3 * self.weights[i] * r[i]
        for i in range(self.m):
            at = self.n + 3 * i
            if r[self.n + i] > 0:
                part = x[at:at + 3]
                bend[at:at + 3, at:at + 3] += (3 * self.weights[self.n + i] / r[self.n + i] *
                                               numpy.outer(part, part))
        return matrix(value, (1, 1)), slope, matrix(z[0] * bend)

    def solve(self):
        a, b = self.equalities()
        g, h, dims = self.inequalities()
        found = solvers.cp(self.cost, G=g, h=h, dims=dims, A=a, b=b)
        return found["status"], numpy.array(found["x"]).ravel()

    def misses(self, x):
        return numpy.abs(self.rows @ x - self.asked).max() / max(1, numpy.abs(self.asked).max())


def shares_of_engine(problem):
    shares = [strand[3] for strand in problem["strands"]]
    for support in problem["supports"]:
        shares += [part / support[0] for part in support[10:13]]
    return numpy.array(shares)


def complaints(problem, rounded):
    """What is wrong with the engine's answer, and how far its shares lie from the other's."""
    programme, ours = Programme(problem, rounded), shares_of_engine(problem)
    status, theirs = programme.solve()
    off = numpy.abs(ours - theirs)[:programme.n].max()
    wrong = []
    if off > (SAME if rounded else ROUNDING):
        wrong.append(f"shares differ by {off:.2g} (the other solver ended {status})")
    if rounded and programme.misses(ours) > GIVEN:
        wrong.append(f"{programme.misses(ours):.2g} of what is asked is not given")
    if rounded and programme.cost(ours)[0][0] > programme.cost(theirs)[0][0] * (1 + DEARER) + 1e-9:
        wrong.append(f"costs {programme.cost(ours)[0][0]}, {programme.cost(theirs)[0][0]} is enough")
    return wrong, off


def main():
    problems = read_problems(sys.stdin)
    worst = {True: (0.0, ""), False: (0.0, "")}
    failed = 0
    for problem in problems:
        name = f"{problem['name']} at {problem['place']:g}"
        assert problem["exponent"] == 3
        for rounded in (True, False):
            wrong, off = complaints(problem, rounded)
            worst[rounded] = max(worst[rounded], (off, name))
            failed += bool(wrong)
            for each in wrong:
                print(f"{name}, corners {'rounded' if rounded else 'sharp'}: {each}")
    print("largest difference of shares, corners rounded: %.1e (%s)" % worst[True])
    print("largest difference of shares, corners sharp: %.1e (%s)" % worst[False])
    if len(problems) < 40:
        print(f"only {len(problems)} problems")
        failed += 1
    print(f"{2 * len(problems) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
