// SPDX-License-Identifier: GPL-3.0-or-later
// Loading files: what is no regular file is refused at once, never waited for.
#include "read/load.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct {
  char folder[32];
  char path[64];
  why_arena* arena;
  size_t length;
  const char* reason;
} place;

static place new_place(void) {
  place made = {.folder = "/tmp/why-load-XXXXXX", .arena = why_arena_new(0)};
  cr_assert_not_null(mkdtemp(made.folder));
  snprintf(made.path, sizeof made.path, "%s/file", made.folder);
  return made;
}

static const char* load(place* at, size_t limit) {
  return why_file_load(at->arena, at->path, limit, &at->length, &at->reason);
}

static void clear(place* at) {
  unlink(at->path);
  rmdir(at->folder);
  why_arena_free(at->arena);
}

Test(load, whole_files_up_to_the_limit) {
  place at = new_place();
  FILE* file = fopen(at.path, "wb");
  fwrite("ab\0cd", 1, 5, file);
  fclose(file);
  const char* bytes = load(&at, 5);
  cr_assert_not_null(bytes);
  cr_expect_eq(at.length, 5);
  cr_expect_eq(memcmp(bytes, "ab\0cd", 6), 0, "terminated");
  cr_expect_null(load(&at, 4));
  cr_expect_not_null(strstr(at.reason, "larger than 4 bytes"));
  clear(&at);
}

Test(load, a_pipe_is_not_waited_for, .timeout = 10) {
  place at = new_place();
  cr_assert_eq(mkfifo(at.path, 0600), 0);
  cr_expect_null(load(&at, 100));
  cr_expect_str_eq(at.reason, "it is not a regular file");
  clear(&at);
}

Test(load, folders_devices_loops_and_nothing) {
  place at = new_place();
  cr_expect_null(load(&at, 100), "nothing there");
  cr_assert_eq(symlink("file", at.path), 0);
  cr_expect_null(load(&at, 100), "a link to itself");
  unlink(at.path);
  cr_assert_eq(symlink("/dev/zero", at.path), 0);
  cr_expect_null(load(&at, 100));
  unlink(at.path);
  cr_assert_eq(symlink("..", at.path), 0);
  cr_expect_null(load(&at, 100));
  clear(&at);
}
