// SPDX-License-Identifier: GPL-3.0-or-later
/// The few ways in which a call can end. They map one to one to the program's exit status.
#ifndef WHYLIFT_STATUS_H
#define WHYLIFT_STATUS_H

#include "export.h"

typedef enum {
  WHY_OK = 0,        ///< Answered.
  WHY_NO_PICK = 1,   ///< The question is sound, but nothing fits it; the answer says what would.
  WHY_QUESTION = 2,  ///< The question is wrong: an unknown or ambiguous word, a bad value.
  WHY_KNOWLEDGE = 3, ///< The knowledge base is wrong; the problems say where.
  WHY_MACHINE = 4    ///< The machine failed: no memory, an unreadable file, a broken pipe.
} why_status;

/// A short English sentence for `status`, without a full stop. Never NULL.
WHY_API const char* why_status_text(why_status status);

#endif
