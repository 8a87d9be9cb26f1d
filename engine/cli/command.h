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
  /// The same for one that opens knowledge bases by itself, else NULL.
  why_status (*start)(const why_options* options);
} why_command;

/// The first row; the last has no name.
const why_command* why_commands_first(void);

/// Open a knowledge base without some of its parts (`leave_out` may be NULL), and print what is
/// wrong with it. `*knowledge` is set on WHY_OK only.
why_status why_command_open(const why_options* options, const char* folder, const char* leave_out,
                            why_knowledge** knowledge);

/// Open the knowledge base that the options name with one study more, and print what is wrong.
why_status why_command_open_with(const why_options* options, const char* study,
                                 why_knowledge** knowledge);

/// The folder of the knowledge base: named by hand, by the environment, or with the program.
const char* why_command_folder(const why_options* options);

/// Tell the query all that the options say, the words as the command takes them. Every word is
/// tried, so that all that is not understood is reported at once.
why_status why_command_fill(why_query* query, const why_command* command,
                            const why_options* options);

/// Answer, and show meanwhile that it goes on; as why_run.
why_status why_command_run(why_query* query, why_task task, why_answer** answer);

/// Print what is wrong with a question, and the answer unless it is NULL; returns how it ended,
/// given that it ended with `status` so far.
why_status why_command_finish(why_query* query, const why_answer* answer,
                              const why_options* options, why_status status);

/// Run the command named in `options`; returns how it ended.
why_status why_commands_run(const why_options* options);

#endif
