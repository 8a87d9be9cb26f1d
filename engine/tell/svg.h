// SPDX-License-Identifier: GPL-3.0-or-later
/// A picture as an SVG element (Scalable Vector Graphics 1.1, W3C 2011): no style sheet, script or
/// reference to anything outside, so that it may stand alone or inside a page.
#ifndef WHY_TELL_SVG_H
#define WHY_TELL_SVG_H

#include "picture.h"

/// Write `picture` with its title and description. `number` tells the pictures of one document
/// apart. Inside a page the element scales with its box, and keeps its proportions.
void why_svg_add(const why_picture* picture, unsigned number, why_buffer* out);

/// The marks alone, moved by (x, y), as a group of another picture's element.
void why_svg_add_group(const why_picture* picture, unsigned number, double x, double y,
                       why_buffer* out);

#endif
