// SPDX-License-Identifier: GPL-3.0-or-later
/// An exercise near the failure of a set: its load is raised until the most stressed head that
/// moves it reaches its capacity in the hardest posture of the repetition.
#ifndef WHY_BODY_EFFORT_H
#define WHY_BODY_EFFORT_H

#include "share.h"

/// What became of the load.
typedef enum {
  WHY_LOAD_REACHED, ///< A head that moves is at its capacity.
  WHY_LOAD_NONE,    ///< There is nothing to raise: stresses are those of the body as it is.
  WHY_LOAD_OVER,    ///< The body alone is more than a head that moves can hold: no load was added.
  WHY_LOAD_IDLE,    ///< More load does not stress the heads that move: the usual load was kept.
} why_load_end;

typedef struct {
  const why_exercise* exercise;
  why_load_end end;
  double factor;  ///< Times the usual load.
  double peak;    ///< Greatest stress of a head that moves; 1 where the load was reached.
  size_t hardest; ///< Posture in which that is.
  int head;       ///< That head, in order of the tables; -1 where no head moves anything.
  bool settled;   ///< Every posture could be solved.
  size_t count;   ///< Postures, from stretched to shortened.
  why_share* at;
} why_effort;

/// Where in the repetition posture `index` lies, 0 stretched to 2 shortened.
double why_effort_place(const why_effort* effort, size_t index);

/// A head limits the load when it gives at least the "mover-share" of evidence/measurements of what
/// all heads together give along an action that the exercise moves. The result is the sharer's and
/// holds until it is used again.
const why_effort* why_effort_find(why_sharer* sharer, const why_exercise* exercise);

/// Moment of a head along `action`, N m, in the sense of the working side: trunk and neck turn and
/// bend to that side whichever side the head is on.
double why_effort_moment(const why_muscles* muscles, const why_share* share, size_t head, int side,
                         const why_action* action);

/// Whether heads of both sides give to `action`: it belongs to the middle of the body.
bool why_effort_is_middle(const why_muscles* muscles, const why_action* action);

#endif
