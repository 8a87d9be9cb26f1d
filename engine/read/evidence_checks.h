// SPDX-License-Identifier: GPL-3.0-or-later
/// The check rows of the files under evidence/studies and evidence/reviews.
#ifndef WHY_READ_EVIDENCE_CHECKS_H
#define WHY_READ_EVIDENCE_CHECKS_H

#include "check.h"
#include "studies.h"

extern why_check_rows why_measured_checks;     ///< check_measured.c
extern why_check_rows why_review_checks;       ///< check_reviews.c
extern why_check_rows why_study_checks;        ///< check_studies.c
extern why_check_rows why_study_number_checks; ///< check_study_numbers.c
extern why_check_rows why_study_gap_checks;    ///< check_study_gaps.c
extern why_check_rows why_bias_checks;         ///< bias.c
extern why_check_rows why_draft_checks;        ///< check_drafts.c

/// Run `check` over every study.
typedef void why_study_check(const why_inspection* inspection, const why_study* study);
void why_each_study(const why_inspection* inspection, why_study_check* check);

/// Whether `file` is called `id`.xml.
bool why_id_is_file_name(const char* id, const char* file);

#endif
