// SPDX-License-Identifier: GPL-3.0-or-later
/// A knowledge base without some of its parts: what if a study, a rule or an exercise were not
/// there.
#ifndef WHY_READ_LEAVE_OUT_H
#define WHY_READ_LEAVE_OUT_H

#include "tables.h"

#include "whylift/status.h"

enum { WHY_LEAVE_OUT_LIMIT = 100 };

/// Take the studies, rules and exercises that `list` names by their ids, separated by commas, out
/// of tables that were read and checked whole, and note them in `tables->without`, each once and in
/// order of their texts. What else speaks of them stays and finds nothing. WHY_QUESTION after
/// reporting every name that is none of these ids.
why_status why_tables_leave_out(why_tables* tables, const char* list, why_problems* problems);

#endif
