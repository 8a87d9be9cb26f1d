// SPDX-License-Identifier: GPL-3.0-or-later
/// Lines through points over two scales, such as the stress of heads over the length of their
/// fibres while a repetition goes from stretched to shortened.
#ifndef WHY_TELL_CURVE_H
#define WHY_TELL_CURVE_H

#include "picture.h"

/// Points in the order in which they are passed; those that are not finite are left out.
typedef struct {
  const char* name;
  size_t count;
  const double* x;
  const double* y;
} why_curve_line;

enum { WHY_CURVE_LINES = 6 }; ///< Most that are told apart.

typedef struct {
  const char* title;
  const char* about;   ///< For the description.
  const char* x_words; ///< What stands on the scales, with units.
  const char* y_words;
  double x_least; ///< What the scales hold in any case.
  double x_most;
  double y_least;
  double y_most;
  size_t count; ///< At most WHY_CURVE_LINES.
  const why_curve_line* lines;
  const why_curve_line* behind; ///< A line to compare with, drawn faintly; NULL for none.
} why_curve;

/// Draw `curve`: each line with a dash, a mark and an ink of its own, its first point hollow and an
/// arrow on its way; the names below. Nothing is drawn when no point is finite.
void why_curve_draw(const why_curve* curve, why_picture* picture);

#endif
