// SPDX-License-Identifier: GPL-3.0-or-later
// One line of text for each file; what is compared is the digest of them all. The time of the last
// change of a file's state (ctime) is among them: no program can set it, so an editor that restores
// the time of its content is noticed too.
#include "stamp.h"

#include "kind.h"

#include <dirent.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

/// File systems keep times in steps, of two seconds at worst.
enum { COARSEST_STEP_S = 2, FILES_LIMIT = 40000 };

typedef WHY_LIST(const char*) names;

typedef struct {
  const char* folder;
  why_arena* arena;
  names all;
  DIR* listed; ///< What is open now; closed when memory runs out.
  time_t newest;
} look;

static void leave(void* user) {
  const look* at = user;
  if (at->listed)
    closedir(at->listed);
}

bool why_stamp_counts(const char* name) {
  size_t length = strlen(name);
  return length > 4 && name[0] != '.' && strcmp(name + length - 4, ".xml") == 0;
}

static void add_name(look* at, const char* path, const char* name) {
  if (at->all.count < FILES_LIMIT)
    *WHY_LIST_ADD(at->arena, at->all) = why_arena_print(at->arena, "%s%s", path, name);
}

static void add_folder(look* at, const char* path) {
  at->listed = opendir(why_arena_print(at->arena, "%s/%s", at->folder, path));
  if (!at->listed)
    return;
  for (const struct dirent* each = readdir(at->listed); each; each = readdir(at->listed))
    if (why_stamp_counts(each->d_name))
      add_name(at, path, each->d_name);
  closedir(at->listed);
  at->listed = NULL;
}

static int by_name(const void* left, const void* right) {
  return strcmp(*(const char* const*)left, *(const char* const*)right);
}

/// A file that is not there has a line without figures.
static void print_file(look* at, const char* name, why_buffer* lines) {
  struct stat found;
  why_buffer_add(lines, name);
  if (stat(why_arena_print(at->arena, "%s/%s", at->folder, name), &found) == 0) {
    why_buffer_print(lines, " %ju %ju.%09ld %ju.%09ld %ju %ju", (uintmax_t)found.st_size,
                     (uintmax_t)found.st_mtim.tv_sec, found.st_mtim.tv_nsec,
                     (uintmax_t)found.st_ctim.tv_sec, found.st_ctim.tv_nsec,
                     (uintmax_t)found.st_ino, (uintmax_t)found.st_dev);
    if (found.st_ctim.tv_sec > at->newest)
      at->newest = found.st_ctim.tv_sec;
  }
  why_buffer_add(lines, "\n");
}

bool why_stamp_read(const char* folder, why_arena* arena, why_stamp* stamp) {
  char path[PATH_MAX];
  if (!realpath(folder, path))
    return false;
  look* at = WHY_NEW(arena, look);
  *at = (look){.folder = why_arena_copy(arena, path, strlen(path)), .arena = arena};
  why_arena_defer(arena, leave, at);
  time_t now = time(NULL);
  const why_kind* kind;
  for (size_t i = 0; (kind = why_kinds_at(i)); i++) {
    if (kind->path[strlen(kind->path) - 1] == '/')
      add_folder(at, kind->path);
    else
      add_name(at, kind->path, "");
    add_name(at, kind->schema, "");
  }
  if (at->all.count)
    qsort(at->all.at, at->all.count, sizeof *at->all.at, by_name);
  why_buffer lines = {.arena = arena};
  for (size_t i = 0; i < at->all.count; i++)
    print_file(at, at->all.at[i], &lines);
  *stamp =
      (why_stamp){.folder = at->folder,
                  .digest = why_digest_of(arena, why_buffer_text(&lines), lines.length),
                  .settled = at->newest + COARSEST_STEP_S < now && at->all.count < FILES_LIMIT};
  return true;
}
