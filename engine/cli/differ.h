// SPDX-License-Identifier: GPL-3.0-or-later
/// What differs: a question as it is and with the changes of --if, or two knowledge bases.
#ifndef WHY_CLI_DIFFER_H
#define WHY_CLI_DIFFER_H

#include "command.h"

/// The question of `options` beside the same with its changes.
why_status why_whatif_run(const why_knowledge* knowledge, const why_command* command,
                          const why_options* options);

/// What every group of muscles is answered otherwise when the study in the file `study` is added.
why_status why_study_add(const why_knowledge* knowledge, const char* study,
                         const why_options* options);

/// The command `diff`.
why_status why_diff_run(const why_options* options);

#endif
