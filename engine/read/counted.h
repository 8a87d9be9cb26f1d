// SPDX-License-Identifier: GPL-3.0-or-later
/// What of a study counts, and for which heads: the joins that every user of trials needs.
#ifndef WHY_READ_COUNTED_H
#define WHY_READ_COUNTED_H

#include "studies.h"

struct why_tables;

/// The heads that a result answers for, as its method sees them; empty when its words map to none.
why_symbol_list why_result_heads(const struct why_tables* tables, const why_result* result);

/// The same for a contrast. A contrast names no method: that of the study's results for the same
/// muscle is taken where they agree, else none.
why_symbol_list why_contrast_heads(const struct why_tables* tables, const why_study* study,
                                   const why_contrast* contrast);

/// Why a row is used for nothing: the reason of a <left-out> on the row, its arms or its study, or
/// "overlapping-sample" when a study with the same people that is kept instead measured one of its
/// heads. NULL when it counts.
const char* why_result_uncounted(const struct why_tables* tables, const why_study* study,
                                 const why_result* result);
const char* why_contrast_uncounted(const struct why_tables* tables, const why_study* study,
                                   const why_contrast* contrast);

/// Whether the study measured the same later: then this reading is on the way only.
bool why_result_superseded(const why_study* study, const why_result* result);

#endif
