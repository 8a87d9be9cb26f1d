// SPDX-License-Identifier: GPL-3.0-or-later
/// From what somebody wrote down to a programme whose exercises are understood. Private to pick.
#ifndef WHY_PICK_PROGRAMME_H
#define WHY_PICK_PROGRAMME_H

#include "notation.h"

enum { WHY_PROGRAMME_LINE = 1000 }; ///< Longest line of text, bytes.

/// Read plain text. What is no programme goes to `programme->unread`; WHY_QUESTION only for what
/// cannot be read at all (not UTF-8, too long).
why_status why_programme_from_text(why_question* question, why_notation* notation, const char* file,
                                   const char* text, why_programme* programme);

/// Which weekdays a text names, as bits from Monday on.
unsigned why_programme_weekdays(why_notation* notation, const char* text);

/// Find the exercises that the names mean; what is not found, or only in part, goes to `unread`.
/// Rows that mean no exercise are taken out.
void why_programme_resolve(const why_question* question, const why_notation* notation,
                           why_programme* programme);

#endif
