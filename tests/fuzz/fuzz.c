// SPDX-License-Identifier: GPL-3.0-or-later
// All entrances in one program: under sanitizers the knowledge base takes long to open, so it is
// opened once and then each entrance is fed by a child of this process. A line of standard input
// says what a child does: the entrance, the file for its messages, and its words for libFuzzer.
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/// What libFuzzer calls: once in the beginning, then with every input.
int LLVMFuzzerInitialize(int* count, char*** words);
int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length);

enum { WORDS = 32, LINE = 4096 };

static const fuzz_entrance* const ENTRANCES[] = {
    &fuzz_abstract, &fuzz_csv,      &fuzz_line,  &fuzz_programme, &fuzz_request,
    &fuzz_rules,    &fuzz_sentence, &fuzz_words, &fuzz_xml,
};

static const fuzz_entrance* chosen;
static why_knowledge* knowledge;
static why_problems* problems;

const why_knowledge* fuzz_knowledge(void) {
  return knowledge;
}

static bool swallow(void* user, const char* bytes, size_t length) {
  (void)user;
  return memchr(bytes, 0, length) == NULL;
}

void fuzz_tell(const why_answer* answer, const char* format) {
  if (why_tell(answer, format, swallow, NULL) != WHY_OK)
    abort();
}

static const fuzz_entrance* find_entrance(const char* name) {
  for (size_t i = 0; name && i < sizeof ENTRANCES / sizeof *ENTRANCES; i++)
    if (strcmp(ENTRANCES[i]->name, name) == 0)
      return ENTRANCES[i];
  fprintf(stderr, "there is no entrance %s\n", name ? name : "");
  exit(2);
}

/// Become the child that `line` describes: libFuzzer goes on with the rest of its words.
static void become(char* line, int* count, char*** words) {
  static char* list[WORDS];
  chosen = find_entrance(strtok(line, " \n"));
  const char* log = strtok(NULL, " \n");
  if (!log || !freopen(log, "w", stderr) || dup2(fileno(stderr), STDOUT_FILENO) < 0)
    exit(2);
  list[0] = (*words)[0];
  *count = 1;
  for (char* word; *count < WORDS - 1 && (word = strtok(NULL, " \n"));)
    list[(*count)++] = word;
  *words = list;
  if (chosen->begin)
    chosen->begin();
}

/// As many children at once as there are processors. Only they return.
int LLVMFuzzerInitialize(int* count, char*** words) {
  static char line[LINE];
  if (why_knowledge_open(WHY_HOME, NULL, &knowledge, &problems) != WHY_OK)
    abort();
  long free_places = sysconf(_SC_NPROCESSORS_ONLN);
  while (fgets(line, sizeof line, stdin)) {
    if (free_places <= 0)
      wait(NULL);
    else
      free_places--;
    if (fork() == 0) {
      become(line, count, words);
      return 0;
    }
  }
  while (wait(NULL) > 0)
    continue;
  exit(0);
}

int LLVMFuzzerTestOneInput(const uint8_t* bytes, size_t length) {
  chosen->feed(bytes, length);
  return 0;
}
