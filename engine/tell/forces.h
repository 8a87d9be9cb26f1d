// SPDX-License-Identifier: GPL-3.0-or-later
/// The forces of a posture as a drawing needs them: few, each with a name and its newtons.
#ifndef WHY_TELL_FORCES_H
#define WHY_TELL_FORCES_H

#include "view.h"

typedef enum {
  WHY_FORCE_WEIGHT,
  WHY_FORCE_LOAD,
  WHY_FORCE_SUPPORT,
  WHY_FORCE_LEVER
} why_force_kind;

typedef struct {
  why_force_kind kind;
  int part;       ///< That it acts on; -1: the whole body.
  int sides;      ///< How many sides fell together.
  bool apart;     ///< They point at the viewer and away: `newton` is that of one.
  bool pushes;    ///< A support that presses on the body, and is no grip.
  why_vec at;     ///< In the world.
  why_vec newton; ///< Of a lever: its moment, N m.
  why_spot spot;  ///< On the paper.
} why_shown_force;

enum { WHY_SHOWN_FORCES = 1 + WHY_APPLIED + WHY_REACTIONS + WHY_LEVERS };

typedef struct {
  size_t count;
  why_shown_force at[WHY_SHOWN_FORCES];
} why_shown_forces;

/// Gather the forces of a posture: the weight at the centre of mass, each load, what supports each
/// part, and the moments of levers. Forces of one kind that fall together in the view are one.
why_shown_forces why_forces_of(const why_motion* motion, const why_statics* statics,
                               const why_view* view);

/// The largest of the forces, newtons, over all positions.
double why_forces_largest(const why_motion* motion, const why_view* view);

/// "load 736 N" for a label.
const char* why_forces_words(const why_shown_force* force, why_arena* arena);

/// Whether a force shows less than half of its size on the paper: it points at the viewer, or away.
bool why_force_is_end_on(const why_shown_force* force, const why_view* view);

/// How long a force is.
double why_force_size(const why_shown_force* force);

#endif
