// SPDX-License-Identifier: GPL-3.0-or-later
// Options as rows of a table: name, where the value goes, what it means. The help is the table.
#include "option.h"

#include "command.h"
#include "output.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum { VALUE_LIMIT = 4096, SHOWN = 80 };

typedef struct {
  const char* name;
  const char* value; ///< How the help calls the value; NULL for a switch.
  size_t offset;     ///< Of the member of why_options.
  const char* fixed; ///< What a switch sets (NULL: a bool); MANY: the member is why_lists.
  const char* what;
} row;

/// Marks an option whose values add up.
static const char MANY[] = "";

static const row ROWS[] = {
    {"--have", "LIST", offsetof(why_options, have), MANY,
     "what is at hand: items, kinds, places (a place stands for all it holds)"},
    {"--without", "LIST", offsetof(why_options, without), MANY, "items or kinds to do without"},
    {"--avoid", "LIST", offsetof(why_options, avoid), MANY, "restrictions of this person"},
    {"--level", "WORD", offsetof(why_options, level), NULL, "beginner, intermediate or advanced"},
    {"--top", "N", offsetof(why_options, top), NULL, "show so many picks (5)"},
    {"--all", NULL, offsetof(why_options, top), "all",
     "show every pick; with why: also other derivations"},
    {"--days", "N", offsetof(why_options, days), NULL, "with plan: sessions a week, 1 to 6 (3)"},
    {"--minutes", "N", offsetof(why_options, minutes), NULL, "with plan: minutes a session (60)"},
    {"--purpose", "WORD", offsetof(why_options, purpose), NULL, "with plan: grow or keep"},
    {"--start", "DATE", offsetof(why_options, start), NULL,
     "with plan: the first day, as 2026-01-05"},
    {"--dose", NULL, offsetof(why_options, dose), "yes",
     "with pick, swap and ask: sets, repetitions, rest and progression too"},
    {"--format", "WORD", offsetof(why_options, format), NULL,
     "text, json, html; html-part (for a page of yours); svg (what can be drawn);\n"
     "                      dot (chains); csv (tables); xml (drafts);\n"
     "                      ical (plans with --start)"},
    {"--knowledge", "DIR", offsetof(why_options, knowledge), NULL,
     "the folder that holds rules/ and evidence/"},
    {"--leave-out", "LIST", offsetof(why_options, leave_out), NULL,
     "do without these studies, rules and exercises (ids): all is fitted anew"},
    {"--if", "CHANGE", offsetof(why_options, changes), MANY,
     "with pick and swap: show what differs if have=LIST (instead), get=LIST, without=LIST,\n"
     "                      avoid=LIST, allow=LIST, level=WORD, goal=GOAL, leave-out=LIST"},
    {"--port", "N", offsetof(why_options, port), NULL,
     "with serve: where to listen (7417); 0 takes any that is free"},
    {"--address", "NAME", offsetof(why_options, address), NULL,
     "with serve: another address than this machine's own; others can then ask too"},
    {"--no-cache", NULL, offsetof(why_options, no_cache), NULL,
     "read the knowledge base from its files, and keep no snapshot of it"},
    {"--validate", NULL, offsetof(why_options, validate), NULL,
     "with pool alone: leave out each study and predict it (a minute or more)"},
    {"--help", NULL, offsetof(why_options, help), NULL, "show this"},
    {"--version", NULL, offsetof(why_options, version), NULL, "show the version"},
};

enum { ROW_COUNT = sizeof ROWS / sizeof *ROWS };

void why_options_help(void) {
  puts("Usage: whylift COMMAND [WORDS] [OPTIONS]\n\nCommands:");
  for (const why_command* each = why_commands_first(); each->name; each++)
    printf("  %-8s %-20s %s\n", each->name, each->words, each->what);
  puts("\nOptions (lists are separated by commas):");
  for (size_t i = 0; i < ROW_COUNT; i++)
    printf("  %-12s %-6s %s\n", ROWS[i].name, ROWS[i].value ? ROWS[i].value : "", ROWS[i].what);
  puts("\nExit status: 0 answered, 1 no pick is possible, 2 the question is wrong,\n"
       "3 the knowledge base is wrong, 4 the machine failed.");
}

/// The row that `word` names ("--have" or "--have=LIST"); NULL when there is none.
static const row* find_row(const char* word, const char** value) {
  size_t length = strcspn(word, "=");
  for (size_t i = 0; i < ROW_COUNT; i++) {
    if (strlen(ROWS[i].name) == length && strncmp(ROWS[i].name, word, length) == 0) {
      *value = word[length] == '=' ? word + length + 1 : NULL;
      return &ROWS[i];
    }
  }
  return NULL;
}

static why_status refuse(const char* sentence, const char* word) {
  fprintf(stderr, "whylift: %s: ", sentence);
  why_output_words(stderr, word, SHOWN);
  fputs("\n  see whylift --help\n", stderr);
  return WHY_QUESTION;
}

static why_status add_word(why_options* options, const char* word) {
  if (strlen(word) > VALUE_LIMIT)
    return refuse("this is too long", word);
  if (!options->command) {
    options->command = word;
    return WHY_OK;
  }
  if (options->word_count == WORDS_LIMIT)
    return refuse("too many words", word);
  options->words[options->word_count++] = word;
  return WHY_OK;
}

static why_status add_list(why_lists* lists, const row* at, const char* value) {
  if (lists->count == LISTS_LIMIT)
    return refuse("given too many times", at->name);
  lists->at[lists->count++] = value;
  return WHY_OK;
}

static why_status set_option(why_options* options, const row* at, const char* value) {
  if (strlen(value) > VALUE_LIMIT)
    return refuse("the value is too long", at->name);
  void* member = (char*)options + at->offset;
  if (at->fixed == MANY)
    return add_list(member, at, value);
  *(const char**)member = value;
  return WHY_OK;
}

static why_status set_switch(why_options* options, const row* at) {
  if (at->fixed)
    return set_option(options, at, at->fixed);
  *(bool*)((char*)options + at->offset) = true;
  return WHY_OK;
}

why_status why_options_read(int argc, char** argv, why_options* options) {
  *options = (why_options){0};
  why_status status = WHY_OK;
  for (int i = 1; i < argc && status == WHY_OK; i++) {
    const char* value = NULL;
    if (argv[i][0] != '-' || argv[i][1] == '\0') {
      status = add_word(options, argv[i]);
      continue;
    }
    const row* at = find_row(argv[i], &value);
    if (!at)
      status = refuse("unknown option", argv[i]);
    else if (!at->value)
      status = value ? refuse("this option takes no value", argv[i]) : set_switch(options, at);
    else if (!value && i + 1 >= argc)
      status = refuse("a value is missing after", argv[i]);
    else
      status = set_option(options, at, value ? value : argv[++i]);
  }
  return status;
}
