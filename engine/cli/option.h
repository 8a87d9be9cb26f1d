// SPDX-License-Identifier: GPL-3.0-or-later
/// The options that all commands share, taken from the command line.
#ifndef WHY_CLI_OPTION_H
#define WHY_CLI_OPTION_H

#include "whylift/whylift.h"

enum { WORDS_LIMIT = 16, LISTS_LIMIT = 64 };

/// The values of an option that may be given several times.
typedef struct {
  const char* at[LISTS_LIMIT];
  int count;
} why_lists;

typedef struct {
  const char* command;
  const char* words[WORDS_LIMIT]; ///< What is not an option, in order.
  int word_count;
  why_lists have;
  why_lists without;
  why_lists avoid;
  why_lists changes; ///< Of --if, as typed.
  const char* level; ///< NULL when not given, like all below; the last one counts.
  const char* top;
  const char* days;
  const char* minutes;
  const char* purpose;
  const char* start;
  const char* dose;
  const char* format;
  const char* knowledge;
  const char* leave_out;
  const char* address; ///< Of serve.
  const char* port;
  bool no_cache;
  bool validate;
  bool help;
  bool version;
} why_options;

/// Read `argv` into `options`. Returns WHY_QUESTION after a message on standard error.
why_status why_options_read(int argc, char** argv, why_options* options);

/// Print how the program is used.
void why_options_help(void);

#endif
