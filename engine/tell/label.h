// SPDX-License-Identifier: GPL-3.0-or-later
/// Placing labels beside what they name, so that none covers another: candidates on rings around
/// the spot, the best of those that are free.
#ifndef WHY_TELL_LABEL_H
#define WHY_TELL_LABEL_H

#include "picture.h"

typedef struct {
  why_spot from;
  why_spot to;
} why_stroke;

typedef struct {
  why_picture* picture;
  why_box room; ///< Labels stay inside.
  WHY_LIST(why_box) taken;
  WHY_LIST(why_stroke) strokes; ///< Lines that labels rather do not cross.
} why_labels;

why_labels why_labels_in(why_picture* picture, why_box room);

/// Room that no label may use; a line that they rather leave free.
void why_labels_take(why_labels* labels, why_box box);
void why_labels_avoid(why_labels* labels, why_spot from, why_spot to);

/// Put `words` near `at`, rather towards `way` (any length), with a thin line back to it when it
/// had to go far. Returns false when there is no room, and draws nothing.
bool why_labels_place(why_labels* labels, why_spot at, why_spot way, double size,
                      const char* words);

#endif
