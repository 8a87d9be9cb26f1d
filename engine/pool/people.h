// SPDX-License-Identifier: GPL-3.0-or-later
/// How many people a result rests on, and which studies share theirs.
#ifndef WHY_POOL_PEOPLE_H
#define WHY_POOL_PEOPLE_H

#include "read/read.h"

/// People measured: as printed for the result or the arm; else an equal share of the study's people
/// that no other arm accounts for (each person has two limbs to give where the arms are limbs), and
/// `imputed` is set. A whole number; NAN when the study does not say how many took part.
double why_people_of(const why_tables* tables, const why_study* study, const why_result* result,
                     bool* imputed);

/// For each study of the tables, in their order, the id of the first (by id) of those that count
/// beside it with the same people (controls apart), directly or through others; its own id for
/// most. In `arena`.
why_symbol* why_samples_of(const why_tables* tables, why_arena* arena);

#endif
