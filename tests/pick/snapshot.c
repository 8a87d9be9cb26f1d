// SPDX-License-Identifier: GPL-3.0-or-later
// The shipped knowledge base can be kept as an image, and reading its files again finds a snapshot
// that tells of something else. tests/snapshot has the rest.
#define _GNU_SOURCE // dladdr
#include "snapshot.h"

#include "whylift/whylift.h"

#include <criterion/criterion.h>
#include <dlfcn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const why_ground* open_into(why_arena* arena) {
  const why_ground* ground = NULL;
  why_problems* problems = why_problems_new();
  const why_read_settings usual = {0};
  cr_assert_not_null(arena);
  cr_assert_eq(why_ground_open(WHY_HOME, &usual, arena, problems, &ground), WHY_OK);
  why_problems_free(problems);
  why_arena_settle(arena);
  return ground;
}

/// What breaks this test is usually a constant or a function in a row: copy the one into the arena,
/// and look the other up when it is needed.
Test(snapshot, no_pointer_of_the_knowledge_base_leads_out_of_it) {
  why_arena* arena = why_image_new(1);
  open_into(arena);
  const void* const* stranger = why_image_stranger(arena);
  Dl_info known = {0};
  if (stranger)
    dladdr(*stranger, &known);
  cr_expect_null(stranger, "%p (in %s, %s) at byte %zu of the image", stranger ? *stranger : NULL,
                 known.dli_fname ? known.dli_fname : "no library",
                 known.dli_sname ? known.dli_sname : "no symbol",
                 (size_t)((const char*)stranger - (const char*)arena));
  why_arena_free(arena);
}

/// Contents can change behind the back of the file system; reading afresh finds that out.
Test(snapshot, of_other_contents_is_found_and_dropped) {
  char folder[] = "/tmp/why-snapshot-XXXXXX";
  char cache[100];
  why_arena* scratch = why_arena_new(0);
  cr_assert_not_null(mkdtemp(folder));
  snprintf(cache, sizeof cache, "%s/cache", folder);
  why_snapshot* snapshot = why_snapshot_open(WHY_HOME, cache, scratch);
  cr_assert_not_null(snapshot);
  why_arena* kept = NULL;
  cr_expect_null(why_snapshot_find(snapshot, &kept));
  why_arena* arena = why_snapshot_arena(snapshot);
  const why_ground* ground = open_into(arena);
  ((why_tables*)ground->tables)->digest = why_arena_copy(arena, "0123456789abcdef", 16);
  why_snapshot_write(snapshot, arena, ground);
  why_arena_free(arena);
  ground = why_snapshot_find(snapshot, &kept);
  cr_assert_not_null(ground, "it is used as long as nobody reads the files");
  cr_expect_str_eq(ground->tables->digest, "0123456789abcdef");
  why_arena_free(kept);
  why_snapshot_close(snapshot);

  why_knowledge* knowledge = NULL;
  why_problems* problems = NULL;
  const why_settings settings = {.cache = cache, .fresh = true};
  cr_assert_eq(why_knowledge_open(WHY_HOME, &settings, &knowledge, &problems), WHY_OK);
  size_t found = 0;
  for (size_t i = 0; i < why_problems_count(problems); i++)
    found += strcmp(why_problems_at(problems, i).check, "snapshot") == 0;
  cr_expect_eq(found, 1);
  why_problems_free(problems);
  why_knowledge_free(knowledge);
  snapshot = why_snapshot_open(WHY_HOME, cache, scratch);
  cr_expect_null(why_snapshot_find(snapshot, &kept), "it was dropped");
  why_snapshot_close(snapshot);
  why_arena_free(scratch);
  char command[200];
  snprintf(command, sizeof command, "rm -r %s", folder);
  cr_assert_eq(system(command), 0);
}
