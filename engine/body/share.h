// SPDX-License-Identifier: GPL-3.0-or-later
/// How the heads share what a posture demands: of all forces that give every moment asked for, on
/// both sides at once, those with the least Σ (force/capacity)^p (the power that
/// evidence/measurements states; Crowninshield and Brand, "A physiologically based criterion of
/// muscle force prediction in locomotion", J Biomech 1981, doi:10.1016/0021-9290(81)90035-X). A
/// two-joint head pays at both joints.
///
/// Beside the heads, each coordinate has a reserve moment, and forces that equilibrium leaves open
/// (at contacts within their friction cones, between two hands that hold one thing) are unknowns
/// too, each as dear as a head of the stated capacity.
#ifndef WHY_BODY_SHARE_H
#define WHY_BODY_SHARE_H

#include "demand.h"
#include "muscle.h"

/// Constants of the sharing and room to work in; one for each thread.
typedef struct why_sharer why_sharer;

/// In `arena`; `muscles` must outlive it. WHY_KNOWLEDGE when a constant is missing.
why_status why_sharer_new(const why_muscles* muscles, why_arena* arena, why_sharer** made);

/// What one head does in a posture.
typedef struct {
  why_muscle_state state;
  double stress; ///< Force over capacity.
} why_head_share;

/// The sharing at one place of a repetition. Heads in order of the tables.
typedef struct why_share {
  double factor; ///< Times the usual load.
  bool posed;    ///< Postures and states of heads stand from another load at this place.
  const struct why_share* near; ///< Another place of the same exercise, or NULL.
  why_posture posture[WHY_SIDES];
  why_head_share* heads[WHY_SIDES];
  double prices[WHY_SIDES][WHY_COORDINATES_LIMIT]; ///< Of a newton metre about a coordinate.
  double balance_prices[6];                        ///< Of a newton and a newton metre.
  double helps[WHY_SIDES][WHY_COORDINATES_LIMIT];  ///< Reserve moment about it, N m.
  double imbalance;                                ///< Of the reactions, as why_reactions says.
  double residual; ///< Greatest moment or force that nothing gives, share of the greatest asked.
  int steps;       ///< That the search took.
  bool settled;    ///< The residual is small; else the shares mean nothing.
} why_share;

/// Room for a share in `arena`.
why_share* why_share_new(const why_muscles* muscles, size_t count, why_arena* arena);

/// Share what `exercise` demands `at` a place (as why_stance_of) with `factor` times its usual
/// load. The search begins at the prices that `share` holds; a share that is `posed` must hold
/// another load at the same place.
void why_share_find(why_sharer* sharer, const why_exercise* exercise, double at, double factor,
                    why_share* share);

/// Let the search for another load begin where stresses would be `by` times as large.
void why_share_scale(const why_sharer* sharer, why_share* share, double by);

/// Make `share` ready for another place, its search to begin `way` of the way from the prices of
/// `from` to those of `to`, places of the same exercise; where one is NULL, at the other's; both
/// NULL: at none.
void why_share_begin(why_share* share, const why_share* from, const why_share* to, double way);

/// The stress that a head would have if prices paid so much for a newton of its force.
double why_share_stress(const why_sharer* sharer, const why_head_share* head, double pay);

/// What `share` gives along `action` on `side`, N m: by one head; below 0 against it.
double why_share_moment(const why_muscles* muscles, const why_share* share, size_t head, int side,
                        const why_action* action);

#endif
