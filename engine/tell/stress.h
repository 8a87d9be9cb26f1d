// SPDX-License-Identifier: GPL-3.0-or-later
/// Which heads work at which length: stress over fibre length along a repetition.
#ifndef WHY_TELL_STRESS_H
#define WHY_TELL_STRESS_H

#include "picture.h"

#include "pick/pick.h"

/// Draw the heads that move the exercise most, those with the greatest moving stress first. Nothing
/// is drawn where none moves it or the sharing could not be solved.
void why_stress_draw(const why_exertion* exertion, why_picture* picture);

#endif
