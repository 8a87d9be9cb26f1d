// SPDX-License-Identifier: GPL-3.0-or-later
/// What the outside world pushes back with: forces at the contacts that keep the whole body in
/// balance, of the smallest Σ|f|²/weight, each within its friction cone (a contact that pulls: any
/// direction). Segments held by bench or machine take any force and moment; then contacts carry
/// nothing.
#ifndef WHY_BODY_REACTION_H
#define WHY_BODY_REACTION_H

#include "load.h"

enum { WHY_REACTIONS = 48 };

/// One point that carries.
typedef struct {
  const why_contact* contact;
  int side;
  int part;
  int twin; ///< The same point of the other side, or -1.
  why_vec at;
  why_vec normal; ///< Unit vector into which the world can push.
  double friction;
  double weight;
  bool pull;
  why_vec body; ///< Newtons, because of the body's own weight; the sum with `load` obeys the cone.
  why_vec load;
} why_reaction;

typedef struct {
  bool held; ///< A held segment carries what contacts do not.
  size_t count;
  why_reaction at[WHY_REACTIONS];
  why_vec residual;        ///< Force that nothing carries, newtons.
  why_vec residual_moment; ///< About the middle of the contacts, N m.
  double
      imbalance; ///< The same as a share of all weight: force, or moment over stature, the larger.
  bool settled;  ///< The solver came to its end.
} why_reactions;

/// Find the reactions to `loading`. A posture out of balance gives the reactions that come nearest
/// and a residual. Body and load part: with the contacts that carry and slide as they do under the
/// whole load, reactions are linear in what is carried; the parts are those of that linear map, and
/// a residual belongs to the body part.
void why_reactions_find(const why_body_model* model, const why_exercise* exercise,
                        const why_pose* pose, const why_loading* loading, why_reactions* reactions);

/// The mean of the points; the origin where there are none.
why_vec why_reactions_middle(const why_reactions* reactions);

#endif
