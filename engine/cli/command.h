// SPDX-License-Identifier: GPL-3.0-or-later
/// The commands, one row each.
#ifndef WHY_CLI_COMMAND_H
#define WHY_CLI_COMMAND_H

#include "option.h"

typedef struct {
  const char* name;
  const char* words;       ///< The words it takes, for the help.
  int least;               ///< Fewest words; the most is the number of `slots`.
  why_word_asked slots[3]; ///< What each word means to the query.
  int slot_count;
  why_task task;
  const char* what;
  /// What the command does with the knowledge base where that is no single answer, else NULL.
  why_status (*run)(const why_knowledge* knowledge, const why_options* options);
} why_command;

/// The first row; the last has no name.
const why_command* why_commands_first(void);

/// Run the command named in `options`; returns how it ended.
why_status why_commands_run(const why_options* options);

#endif
