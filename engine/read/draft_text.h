// SPDX-License-Identifier: GPL-3.0-or-later
/// Pasted text made readable: what page layout and word processors did to it undone, and cut into
/// sentences.
#ifndef WHY_READ_DRAFT_TEXT_H
#define WHY_READ_DRAFT_TEXT_H

#include "base/base.h"

enum {
  WHY_DRAFT_TEXT_LIMIT = 64 * 1024, ///< Longest text, bytes.
  WHY_DRAFT_SENTENCES_LIMIT = 1000
};

typedef WHY_LIST(const char*) why_sentences;

/// `text` (UTF-8) with ligatures spelled out, words joined that were broken at the end of a line,
/// every dash and minus as "-", thin spaces inside numbers gone, other odd spaces plain, raised
/// digits on the line ("cm2"), the signs < > & where they came as entities, control characters
/// blank. Lines stay lines. In `arena`.
const char* why_draft_mend(why_arena* arena, const char* text);

/// The sentences of a mended text, blanks folded; a blank line also ends one. At most
/// WHY_DRAFT_SENTENCES_LIMIT, the last of which then holds the rest.
why_sentences why_draft_sentences(why_arena* arena, const char* mended);

#endif
