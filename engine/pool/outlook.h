// SPDX-License-Identifier: GPL-3.0-or-later
/// What a fitted growth model expects, without the data that it was fitted to: small, never
/// changes, and can be shared by threads.
#ifndef WHY_POOL_OUTLOOK_H
#define WHY_POOL_OUTLOOK_H

#include "growth.h"

typedef struct why_outlook why_outlook;

/// Where an estimate comes from, least first.
typedef enum {
  WHY_BASIS_MECHANICS, ///< No trial measured the head: a band, no number.
  WHY_BASIS_SAME_HEAD, ///< Trials measured the head, not after this exercise.
  WHY_BASIS_OWN_TRIALS
} why_growth_basis;

/// "own-trials", "same-head", "mechanics-only".
const char* why_growth_basis_id(why_growth_basis basis);

/// Growth of a head, or of several as one, in a new group of like people who train an exercise for
/// ten weeks with ten weekly sets, against no training; per cent of the size (area or volume).
typedef struct {
  double percent;
  double low; ///< Bounds of that mean, 95 %.
  double high;
  double new_low; ///< Bounds of what a new study of it would find but for its own sampling error.
  double new_high;
  why_growth_basis basis;
} why_estimate;

/// One head of a goal.
typedef struct {
  size_t head;   ///< Index in the tables.
  double weight; ///< Share of the goal's volume; they sum to 1, or to less: the rest does not grow.
} why_goal_head;

typedef struct {
  const why_goal_head* at;
  size_t count;
} why_goal;

/// All that the model expects of the catalogue, in `arena`; the fit is not needed afterwards.
const why_outlook* why_outlook_new(const why_growth* growth, why_arena* arena);

/// Whether anything is expected of a head (indexes in the tables): the exercise moves it, or it was
/// measured after the exercise. Any other estimate is zero with a band.
bool why_outlook_knows(const why_outlook* outlook, size_t exercise, size_t head);

/// For people who trained before (`trained` 1) or not (0). `exercise`: index in the tables. The
/// growth of several heads is that of their volume together.
void why_outlook_estimate(const why_outlook* outlook, size_t exercise, const why_goal* goal,
                          double trained, why_arena* scratch, why_estimate* estimate);

/// An exercise with what is counted of a goal in it.
typedef struct {
  size_t exercise; ///< Index in the tables.
  why_goal goal;   ///< May be empty: nothing grows.
} why_aim;

/// The growth by `a` minus that by `b`, percentage points, by their joint covariance; basis: the
/// lesser one of those that count anything. Of one exercise with itself it is 0, whatever is
/// counted.
void why_outlook_difference(const why_outlook* outlook, const why_aim* a, const why_aim* b,
                            double trained, why_arena* scratch, why_estimate* difference);

#endif
