// SPDX-License-Identifier: GPL-3.0-or-later
/// The coverage of a week as a picture: sets head by head.
#ifndef WHY_TELL_WEEK_PICTURE_H
#define WHY_TELL_WEEK_PICTURE_H

#include "node.h"

/// Weekly sets of one head.
typedef struct {
  const char* name;
  double direct; ///< As a prime mover.
  double all;    ///< With those in which it assists as halves.
  double aim;    ///< NAN: none.
} why_week_bar;

typedef WHY_LIST(why_week_bar) why_week_bars;

/// Add the picture of `bars`, which must outlive the answer's tree. Without bars none is added.
void why_part_week(why_arena* arena, why_node* parent, const why_week_bars* bars);

#endif
