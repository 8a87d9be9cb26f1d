// SPDX-License-Identifier: GPL-3.0-or-later
/// The friction cone of a contact: nearest force inside it, and how that moves with the force asked
/// for. Private to body.
#ifndef WHY_BODY_CONE_H
#define WHY_BODY_CONE_H

#include "reaction.h"

/// The force of the cone of `contact` that is nearest to `wish`.
why_vec why_cone_nearest(const why_reaction* contact, why_vec wish);

/// The derivative of why_cone_nearest, a symmetric matrix by its rows. Since cones have no scale,
/// derivative times wish is the nearest force itself.
void why_cone_slope(const why_reaction* contact, why_vec wish, why_vec rows[3]);

#endif
