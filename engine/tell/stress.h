// SPDX-License-Identifier: GPL-3.0-or-later
/// Which heads work at which length: stress over fibre length along a repetition.
#ifndef WHY_TELL_STRESS_H
#define WHY_TELL_STRESS_H

#include "picture.h"

#include "pick/pick.h"

/// Draw the heads that move the exercise most, those with the greatest moving stress first. Nothing
/// is drawn where none moves it or the sharing could not be solved.
void why_stress_draw(const why_exertion* exertion, why_picture* picture);

/// Draw two exercises over each other: the heads that move `a` most, in both. Nothing is drawn
/// where why_stress_draw would draw nothing for one of them.
void why_stress_draw_two(const why_exertion* a, const why_exertion* b, why_picture* picture);

#endif
