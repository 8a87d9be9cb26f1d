// SPDX-License-Identifier: GPL-3.0-or-later
/// A position of an exercise as a stick figure with the forces that act on it.
#ifndef WHY_TELL_FIGURE_H
#define WHY_TELL_FIGURE_H

#include "label.h"
#include "view.h"

/// The positions in words: "stretched", "middle", "shortened".
const char* why_position_words(int position);

/// Draw position number `position`: both sides of the body, what holds and carries it, and its
/// forces with labels. The three pictures of an exercise have one size, view and scale.
void why_figure_draw(const why_motion* motion, int position, why_picture* picture);

/// Draw the arrows of the forces and their labels (arrows.c). `newton_px` is the length of a
/// newton.
void why_arrows_draw(const why_motion* motion, const why_statics* statics, const why_view* view,
                     double newton_px, why_labels* labels);

/// Widen `box` by the arrows of a posture.
void why_arrows_bound(const why_motion* motion, const why_statics* statics, const why_view* view,
                      double newton_px, why_box* box);

/// Draw floor, bench and box at the contacts, rings at grips, and pads along what is held
/// (surfaces.c).
void why_surfaces_draw(const why_motion* motion, const why_statics* statics, const why_view* view,
                       why_picture* picture);
void why_pads_draw(const why_motion* motion, const why_statics* statics, const why_view* view,
                   why_picture* picture);

#endif
