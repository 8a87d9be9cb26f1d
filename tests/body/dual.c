// SPDX-License-Identifier: GPL-3.0-or-later
// The dual of the sharing: slopes against differences of values, optima against closed forms and
// against other answers, and problems without an answer.
#include "body/dual.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

static const double ENOUGH = 1e-9;

/// A number in [0, 1) from a fixed sequence (64-bit linear congruential).
static double draw(void) {
  static uint64_t state = 7;
  state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
  return (double)(state >> 11) / 9007199254740992.0;
}

static double draw_between(double least, double most) {
  return least + (most - least) * draw();
}

static why_strand* add_strand(why_dual* dual, double capacity, int row, double gives) {
  why_strand* made = &dual->strands[dual->strand_count++];
  *made = (why_strand){.capacity = capacity, .weight = 1, .count = 1};
  made->rows[0] = row;
  made->gives[0] = gives;
  return made;
}

static void clear(why_dual* dual, size_t equations) {
  memset(dual, 0, sizeof *dual);
  dual->exponent = 3;
  dual->smooth = 1e-3;
  dual->soft = 5e-2;
  dual->equation_count = equations;
}

/// Strands that meet up to three equations each, and two contacts within their cones that give to
/// all. Every equation has a strand of its own in both senses, so that there is an answer.
static void draw_problem(why_dual* dual, const why_reaction contacts[2]) {
  enum { EQUATIONS = 8, HEADS = 20 };
  clear(dual, EQUATIONS);
  for (int i = 0; i < EQUATIONS; i++) {
    dual->asked[i] = draw_between(-50, 50);
    add_strand(dual, draw_between(1, 30), i, 1)->either = true;
  }
  for (int i = 0; i < HEADS; i++) {
    why_strand* head = add_strand(dual, draw_between(100, 3000), i % EQUATIONS, 0);
    head->weight = i % 3 ? 1 : 2;
    head->count = 1 + (size_t)i % 3;
    int first = i % (EQUATIONS - 3 * ((int)head->count - 1));
    for (size_t j = 0; j < head->count; j++) {
      head->rows[j] = first + 3 * (int)j;
      head->gives[j] = head->weight * draw_between(-0.06, 0.06);
    }
  }
  for (int i = 0; i < 2; i++) {
    why_support* made = &dual->supports[dual->support_count++];
    *made = (why_support){.contact = &contacts[i],
                          .usual = {draw_between(-20, 20), draw_between(-20, 20), 200},
                          .capacity = 100,
                          .weight = 1,
                          .count = EQUATIONS};
    for (int j = 0; j < EQUATIONS; j++) {
      made->rows[j] = j;
      made->gives[j] = (why_vec){draw_between(-1, 1), draw_between(-1, 1), draw_between(-1, 1)};
    }
  }
}

static const why_reaction CONTACTS[2] = {
    {.normal = {0, 0, 1}, .friction = 0.5},
    {.normal = {0, 0.6, 0.8}, .friction = 0.8},
};

static why_dual dual;
static why_prices prices;

static bool solve(void) {
  memset(&prices, 0, sizeof prices);
  return why_dual_solve(&dual, ENOUGH, &prices);
}

/// Central differences of the value give the gradient, those of the gradient the curvature.
Test(dual, slopes_are_derivatives) {
  static why_dual_point at;
  static why_dual_point more;
  static why_dual_point less;
  for (int k = 0; k < 40; k++) {
    draw_problem(&dual, CONTACTS);
    double where[WHY_EQUATIONS];
    for (size_t i = 0; i < dual.equation_count; i++)
      where[i] = draw_between(-0.2, 0.2);
    why_dual_look(&dual, dual.smooth, where, &at);
    for (size_t i = 0; i < dual.equation_count; i++) {
      double here = where[i];
      where[i] = here + 1e-6;
      why_dual_look(&dual, dual.smooth, where, &more);
      where[i] = here - 1e-6;
      why_dual_look(&dual, dual.smooth, where, &less);
      where[i] = here;
      double slope = (more.value - less.value) / 2e-6;
      double bent = 1e-6 * fabs(more.curvature[i][i] - less.curvature[i][i]); // A kink between.
      cr_expect_float_eq(slope, at.gradient[i], 1e-6 * (1 + fabs(slope)) + bent,
                         "slope %zu of problem %d", i, k);
      for (size_t j = 0; j <= i; j++) {
        double bend = (more.gradient[j] - less.gradient[j]) / 2e-6;
        double size = sqrt(at.curvature[i][i] * at.curvature[j][j]);
        cr_expect_float_eq(bend, at.curvature[i][j], 1e-3 * (1 + size),
                           "curvature %zu %zu of problem %d: %g, differences %g", i, j, k,
                           at.curvature[i][j], bend);
      }
    }
  }
}

static double given_to(int row) {
  double sum = 0;
  for (size_t i = 0; i < dual.strand_count; i++)
    for (size_t j = 0; j < dual.strands[i].count; j++)
      if (dual.strands[i].rows[j] == row)
        sum += dual.strands[i].weight * dual.strands[i].gives[j] *
               why_dual_strand(&dual, &dual.strands[i], prices.prices);
  for (size_t i = 0; i < dual.support_count; i++) {
    why_vec away = why_dual_support(&dual, &dual.supports[i], prices.prices);
    sum += dual.supports[i].weight * why_vec_dot(dual.supports[i].gives[row], away);
  }
  return sum;
}

/// What is found gives what is asked, and contacts stay within their cones.
Test(dual, answers_are_feasible) {
  for (int k = 0; k < 100; k++) {
    draw_problem(&dual, CONTACTS);
    cr_assert(solve(), "problem %d: residual %g", k, prices.residual);
    for (int i = 0; i < (int)dual.equation_count; i++)
      cr_expect_float_eq(given_to(i), dual.asked[i], 1e-6, "problem %d, equation %d", k, i);
    for (size_t i = 0; i < dual.support_count; i++) {
      const why_support* support = &dual.supports[i];
      why_vec force = why_vec_add(support->usual, why_dual_support(&dual, support, prices.prices));
      double normal = why_vec_dot(force, support->contact->normal);
      double along =
          why_vec_length(why_vec_subtract(force, why_vec_scale(support->contact->normal, normal)));
      cr_expect_leq(along, support->contact->friction * normal + 1e-9, "problem %d", k);
    }
  }
}

/// One equation: every share x meets p ((x + s)^(p−1) − s^(p−1)) = price · gives · capacity, so
/// that shares go as the power 1/(p − 1) of gives · capacity when s is nothing beside them.
static void expect_closed_form(double exponent) {
  static const double CAPACITIES[] = {500, 1500, 800};
  static const double ARMS[] = {0.05, 0.03, 0.04};
  clear(&dual, 1);
  dual.exponent = exponent;
  dual.smooth = 1e-6;
  dual.asked[0] = 60;
  double sum = 0;
  for (int i = 0; i < 3; i++) {
    add_strand(&dual, CAPACITIES[i], 0, ARMS[i]);
    sum += CAPACITIES[i] * ARMS[i] * pow(CAPACITIES[i] * ARMS[i], 1 / (exponent - 1));
  }
  cr_assert(solve());
  for (int i = 0; i < 3; i++) {
    double expected = 60 / sum * pow(CAPACITIES[i] * ARMS[i], 1 / (exponent - 1));
    double found = why_dual_strand(&dual, &dual.strands[i], prices.prices) / CAPACITIES[i];
    cr_expect_float_eq(found, expected, 1e-5, "exponent %g: %g, expected %g", exponent, found,
                       expected);
  }
}

Test(dual, one_equation_has_a_closed_form) {
  expect_closed_form(3);
  expect_closed_form(2.5);
  expect_closed_form(4);
  expect_closed_form(5);
}

/// Two joints with a muscle each and one across both, by hand: with p = 3, capacities 1, arms 1 and
/// demands a and −b, the two-joint muscle helps at the first and harms at the second; when the
/// second asks for more than the first, it stays still.
Test(dual, a_two_joint_head_is_spared_where_it_would_fight) {
  clear(&dual, 2);
  dual.smooth = 1e-6;
  dual.asked[0] = 0.2;
  dual.asked[1] = -0.5;
  add_strand(&dual, 1, 0, 1);
  add_strand(&dual, 1, 1, -1);
  why_strand* both = add_strand(&dual, 1, 0, 1);
  both->count = 2;
  both->rows[1] = 1;
  both->gives[1] = 1;
  cr_assert(solve());
  cr_expect_float_eq(why_dual_strand(&dual, both, prices.prices), 0, 1e-12);
  cr_expect_float_eq(why_dual_strand(&dual, &dual.strands[0], prices.prices), 0.2, 1e-8);
  cr_expect_float_eq(why_dual_strand(&dual, &dual.strands[1], prices.prices), 0.5, 1e-8);
  dual.asked[1] = 0.3; // Now it helps at both: 2 x² of the one-joint heads meet its own.
  both->gives[1] = 1;
  dual.strands[1].gives[0] = 1;
  cr_assert(solve());
  double shared = why_dual_strand(&dual, both, prices.prices);
  cr_expect_float_eq(shared * shared,
                     (0.2 - shared) * (0.2 - shared) + (0.3 - shared) * (0.3 - shared), 1e-6);
}

/// An equation scaled as a whole leaves every force as it is.
Test(dual, units_of_an_equation_do_not_matter) {
  draw_problem(&dual, CONTACTS);
  cr_assert(solve());
  double before[WHY_STRANDS];
  for (size_t i = 0; i < dual.strand_count; i++)
    before[i] = why_dual_strand(&dual, &dual.strands[i], prices.prices);
  const double BY = 12;
  dual.asked[2] *= BY;
  for (size_t i = 0; i < dual.strand_count; i++)
    for (size_t j = 0; j < dual.strands[i].count; j++)
      if (dual.strands[i].rows[j] == 2)
        dual.strands[i].gives[j] *= BY;
  for (size_t i = 0; i < dual.support_count; i++)
    dual.supports[i].gives[2] = why_vec_scale(dual.supports[i].gives[2], BY);
  cr_assert(solve());
  for (size_t i = 0; i < dual.strand_count; i++)
    cr_expect_float_eq(why_dual_strand(&dual, &dual.strands[i], prices.prices), before[i], 1e-5);
}

/// Without contacts, and with hardly any rounding of the corner, forces go with what is asked.
Test(dual, forces_scale_with_what_is_asked) {
  draw_problem(&dual, CONTACTS);
  dual.support_count = 0;
  dual.smooth = 1e-6;
  cr_assert(solve());
  double before[WHY_STRANDS];
  for (size_t i = 0; i < dual.strand_count; i++)
    before[i] = why_dual_strand(&dual, &dual.strands[i], prices.prices);
  for (size_t i = 0; i < dual.equation_count; i++)
    dual.asked[i] *= 3;
  cr_assert(solve());
  for (size_t i = 0; i < dual.strand_count; i++)
    cr_expect_float_eq(why_dual_strand(&dual, &dual.strands[i], prices.prices), 3 * before[i],
                       1e-4 * dual.strands[i].capacity);
}

/// Known prices, near or far, lead to the same answer as none.
Test(dual, where_the_search_begins_does_not_matter) {
  for (int k = 0; k < 30; k++) {
    draw_problem(&dual, CONTACTS);
    cr_assert(solve());
    why_prices other = {0};
    for (size_t i = 0; i < dual.equation_count; i++)
      other.prices[i] = k % 2 ? 1.1 * prices.prices[i] : draw_between(-5, 5);
    cr_assert(why_dual_solve(&dual, ENOUGH, &other), "problem %d: residual %g", k, other.residual);
    for (size_t i = 0; i < dual.strand_count; i++)
      cr_expect_float_eq(why_dual_strand(&dual, &dual.strands[i], other.prices),
                         why_dual_strand(&dual, &dual.strands[i], prices.prices),
                         1e-6 * dual.strands[i].capacity);
  }
}

/// What nothing can give is not called solved: no strand at all, one that pulls the wrong way only,
/// a contact outside its cone.
Test(dual, what_nothing_gives_is_not_settled) {
  clear(&dual, 2);
  dual.asked[0] = 10;
  dual.asked[1] = 5;
  add_strand(&dual, 100, 1, 0.1);
  cr_expect_not(solve());
  cr_expect_gt(prices.residual, 0.9);

  clear(&dual, 1);
  dual.asked[0] = -10;
  add_strand(&dual, 100, 0, 0.1);
  cr_expect_not(solve());
  cr_expect_float_eq(prices.residual, 1, 1e-3);

  clear(&dual, 3);
  static const why_vec AXES[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  dual.support_count = 1;
  dual.supports[0] = (why_support){
      .contact = &CONTACTS[0], .usual = {0, 0, 100}, .capacity = 100, .weight = 1, .count = 3};
  for (int i = 0; i < 3; i++) {
    dual.supports[0].rows[i] = i;
    dual.supports[0].gives[i] = AXES[i];
  }
  dual.asked[0] = 49;
  cr_expect(solve(), "inside the cone: residual %g", prices.residual);
  dual.asked[0] = 60;
  cr_expect_not(solve());
  cr_expect_gt(prices.residual, 0.01);
}
