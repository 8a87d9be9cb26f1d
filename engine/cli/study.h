// SPDX-License-Identifier: GPL-3.0-or-later
/// The command `study`: what it does depends on its first word.
#ifndef WHY_CLI_STUDY_H
#define WHY_CLI_STUDY_H

#include "option.h"

/// Run it; returns how it ended.
why_status why_study_run(const why_knowledge* knowledge, const why_options* options);

#endif
