// SPDX-License-Identifier: GPL-3.0-or-later
// Every file in tests/bad stands in for one file of the knowledge base and breaks it in one way.
// Its first line says which file, on which line the problem must be reported, and by which check:
// <!-- stands-for: rules/lexicon.xml; line: 3; check: word-set -->
// The folder that is read is made of links to the true files, all but the one replaced.
#include "body/body.h"
#include "pick/ground.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PATH_ROOM = 1024 };

typedef struct {
  char path[PATH_ROOM];       ///< Of the bad file.
  char stands_for[PATH_ROOM]; ///< Relative to the knowledge base.
  unsigned line;
  char check[PATH_ROOM];
} bad_file;

static bool read_first_line(const char* path, bad_file* bad) {
  FILE* file = fopen(path, "r");
  cr_assert_not_null(file, "%s", path);
  char line[PATH_ROOM] = "";
  bool some = fgets(line, sizeof line, file) != NULL;
  fclose(file);
  snprintf(bad->path, sizeof bad->path, "%s", path);
  return some && sscanf(line, "<!-- stands-for: %1000[^;]; line: %u; check: %1000[^ ] -->",
                        bad->stands_for, &bad->line, bad->check) == 3;
}

/// Fill the new folder `to` with links to what `from` holds. The entry on the way to `relative` is
/// made anew instead: a folder, or a link to the bad file. A file that is not there yet is added.
static void overlay(const char* from, const char* to, const char* relative, const char* bad) {
  mkdir(to, 0700);
  size_t length = strcspn(relative, "/");
  bool last = !relative[length];
  char source[2 * PATH_ROOM], target[2 * PATH_ROOM];
  DIR* folder = opendir(from);
  cr_assert_not_null(folder, "%s", from);
  for (struct dirent* entry = readdir(folder); entry; entry = readdir(folder)) {
    const char* name = entry->d_name;
    if (*name == '.' || (strlen(name) == length && strncmp(name, relative, length) == 0))
      continue;
    snprintf(source, sizeof source, "%s/%s", from, name);
    snprintf(target, sizeof target, "%s/%s", to, name);
    cr_assert_eq(symlink(source, target), 0, "%s", target);
  }
  closedir(folder);
  snprintf(source, sizeof source, "%s/%.*s", from, (int)length, relative);
  snprintf(target, sizeof target, "%s/%.*s", to, (int)length, relative);
  if (last)
    cr_assert_eq(symlink(bad, target), 0, "%s", target);
  else
    overlay(source, target, relative + length + 1, bad);
}

/// Remove links and folders; what links point to stays.
static void clear_away(const char* path) {
  DIR* folder = opendir(path);
  for (struct dirent* entry = folder ? readdir(folder) : NULL; entry; entry = readdir(folder)) {
    char inner[2 * PATH_ROOM];
    struct stat found;
    snprintf(inner, sizeof inner, "%s/%s", path, entry->d_name);
    if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0 ||
        lstat(inner, &found) != 0)
      continue;
    if (S_ISDIR(found.st_mode))
      clear_away(inner);
    else
      unlink(inner);
  }
  if (folder)
    closedir(folder);
  rmdir(path);
}

static bool is_reported(const why_problems* problems, const bad_file* bad) {
  for (size_t i = 0; i < why_problems_count(problems); i++) {
    why_problem problem = why_problems_at(problems, i);
    if (problem.place.file && strcmp(problem.place.file, bad->stands_for) == 0 &&
        problem.place.line == bad->line && strcmp(problem.check, bad->check) == 0)
      return true;
  }
  return false;
}

static bool is_body_check(const char* name) {
  const why_check* check;
  for (size_t i = 0; (check = why_body_checks_at(i)); i++)
    if (strcmp(check->name, name) == 0)
      return true;
  return false;
}

static void expect_report(const bad_file* bad) {
  char folder[] = "/tmp/why-bad-XXXXXX";
  cr_assert_not_null(mkdtemp(folder));
  overlay(WHY_HOME, folder, bad->stands_for, bad->path);
  why_arena* arena = why_arena_new(0);
  why_problems* problems = why_problems_new();
  why_read_settings settings = {0};
  why_tables* tables = NULL;
  const why_ground* ground = NULL;
  // What is wrong with rules shows when they are compiled and run, not when they are read; what is
  // wrong with mechanics when they are computed.
  if (strncmp(bad->stands_for, "rules/reasoning/", 16) == 0 || is_body_check(bad->check))
    why_ground_open(folder, &settings, arena, problems, &ground);
  else
    why_tables_open(folder, &settings, arena, problems, &tables);
  cr_expect(is_reported(problems, bad), "%s: no problem %s at %s:%u", bad->path, bad->check,
            bad->stands_for, bad->line);
  why_problems_free(problems);
  why_arena_free(arena);
  clear_away(folder);
}

typedef struct {
  char name[256];
} file_name;

static bool is_xml(const char* name) {
  size_t length = strlen(name);
  return length > 4 && strcmp(name + length - 4, ".xml") == 0;
}

static int by_name(const void* left, const void* right) {
  return strcmp(((const file_name*)left)->name, ((const file_name*)right)->name);
}

static void free_names(struct criterion_test_params* names) {
  cr_free(names->params);
}

/// One test a file, so that they run side by side.
ParameterizedTestParameters(bad, every_file_is_found_out) {
  enum { FILES_LIMIT = 1000 };
  file_name* names = cr_malloc(FILES_LIMIT * sizeof *names);
  size_t count = 0;
  DIR* folder = opendir(WHY_HOME "/tests/bad");
  for (struct dirent* entry = folder ? readdir(folder) : NULL; entry; entry = readdir(folder))
    if (is_xml(entry->d_name) && count < FILES_LIMIT)
      snprintf(names[count++].name, sizeof names->name, "%s", entry->d_name);
  if (folder)
    closedir(folder);
  qsort(names, count, sizeof *names, by_name);
  return cr_make_param_array(file_name, names, count, free_names);
}

ParameterizedTest(file_name* file, bad, every_file_is_found_out) {
  char path[PATH_ROOM];
  bad_file bad = {0};
  snprintf(path, sizeof path, "%s/tests/bad/%s", WHY_HOME, file->name);
  cr_assert(read_first_line(path, &bad), "%s: the first line does not say what it breaks", path);
  expect_report(&bad);
}

static void expect_file(const why_check* check) {
  char path[PATH_ROOM];
  snprintf(path, sizeof path, "%s/tests/bad/%s.xml", WHY_HOME, check->name);
  cr_expect_eq(access(path, R_OK), 0, "there is no tests/bad/%s.xml", check->name);
}

/// A check that no bad file breaks might as well not be there.
Test(bad, every_check_has_its_file) {
  for (size_t i = 0; why_checks_at(i); i++)
    expect_file(why_checks_at(i));
  for (size_t i = 0; why_body_checks_at(i); i++)
    expect_file(why_body_checks_at(i));
}
