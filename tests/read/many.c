// SPDX-License-Identifier: GPL-3.0-or-later
// A knowledge base in which nearly every reference is unknown: all is reported in the memory of one
// knowledge base, and soon.
#include "whylift/whylift.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

Test(many, unknown_references_end_in_problems_not_in_exhausted_memory, .timeout = 120) {
  char folder[] = "/tmp/why-many-XXXXXX";
  cr_assert_not_null(mkdtemp(folder));
  char command[600];
  // The shell takes the home from its environment, so that any path will do, blanks and all.
  cr_assert_eq(setenv("WHY_FROM", WHY_HOME, 1), 0);
  snprintf(command, sizeof command,
           "cp -r \"$WHY_FROM/rules\" \"$WHY_FROM/evidence\" %s && rm %s/rules/anatomy/*.xml",
           folder, folder);
  cr_assert_eq(system(command), 0);
  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  cr_expect_eq(why_knowledge_open(folder, NULL, &knowledge, &problems), WHY_KNOWLEDGE);
  cr_expect_gt(why_problems_count_from(problems, WHY_ERROR), 1000);
  why_problems_free(problems);
  why_knowledge_free(knowledge);
  snprintf(command, sizeof command, "rm -r %s", folder);
  cr_assert_eq(system(command), 0);
}
