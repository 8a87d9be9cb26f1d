// SPDX-License-Identifier: GPL-3.0-or-later
/// How much hangs on the choice of reactions: where equilibrium leaves several, those of least norm
/// are a choice, and a demand that another choice would change much is not determined by mechanics.
/// Private to body.
#ifndef WHY_BODY_CHOICE_H
#define WHY_BODY_CHOICE_H

#include "balance.h"

/// One force component that may be chosen otherwise, scaled by √weight.
typedef struct {
  size_t point; ///< Of the reactions.
  why_vec direction;
  why_wrench wrench;
} why_component;

/// Prepared once for all demands of a posture; borrows exercise and reactions.
typedef struct {
  const why_exercise* exercise;
  const why_reactions* reactions;
  double norm; ///< √(Σ|f|²/weight), newtons.
  size_t count;
  why_component components[3 * WHY_REACTIONS];
  double inverse[WHY_SIX * WHY_SIX]; ///< Of Σ wrench wrenchᵀ.
} why_choice;

void why_choice_find(const why_exercise* exercise, const why_reactions* reactions,
                     why_choice* choice);

/// How much Σ slope · force could change, at most, by another choice of reactions that keeps the
/// balance and differs by `share` of their norm √(Σ|f|²/weight): `slopes`, one a reaction point.
/// In a bilateral exercise both sides choose alike. Points that carry nothing go on to; a change
/// along a surface counts as one over the coefficient of friction times as large. 0 where
/// equilibrium leaves no choice.
double why_choice_effect(const why_choice* choice, const why_vec* slopes, double share);

#endif
