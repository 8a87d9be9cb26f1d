// SPDX-License-Identifier: GPL-3.0-or-later
// A folder of images: its own user's and nobody else's, one writer at a time, the oldest dropped.
#include "base/cache.h"

#include "base/image.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { PATH_ROOM = 200 };

static char home[] = "/tmp/why-cache-XXXXXX";
static why_arena* arena;

static void set_up(void) {
  cr_assert_not_null(mkdtemp(home));
  arena = why_arena_new(0);
}

static void tear_down(void) {
  char command[PATH_ROOM];
  snprintf(command, sizeof command, "chmod -R u+rwX %s && rm -r %s", home, home);
  cr_assert_eq(system(command), 0);
  why_arena_free(arena);
}

TestSuite(cache, .init = set_up, .fini = tear_down);

static const char* path_of(const char* name) {
  return why_arena_print(arena, "%s/%s", home, name);
}

static why_cache* open_cache(void) {
  why_cache* made = why_cache_open(path_of("own"), arena);
  cr_assert_not_null(made);
  return made;
}

static bool put(const why_cache* cache, const char* name, int number) {
  const why_cache_key key = {name, "label", 1};
  why_arena* image = why_image_new(1);
  int* root = WHY_NEW(image, int);
  *root = number;
  bool written = why_cache_write(cache, &key, image, root);
  why_arena_free(image);
  return written;
}

/// The number under `name`, or -1.
static int get(const why_cache* cache, const char* name) {
  const why_cache_key key = {name, "label", 1};
  const void* root = NULL;
  why_arena* image = why_cache_read(cache, &key, &root);
  int number = image ? *(const int*)root : -1;
  why_arena_free(image);
  return number;
}

static size_t count_files(void) {
  DIR* folder = opendir(path_of("own"));
  size_t count = 0;
  while (folder && readdir(folder))
    count++;
  closedir(folder);
  return count - 2; // . and ..
}

Test(cache, keeps_what_was_put_there) {
  why_cache* cache = open_cache();
  struct stat found;
  cr_assert_eq(stat(path_of("own"), &found), 0);
  cr_expect_eq(found.st_mode & 0777, 0700);
  cr_expect_not(put(cache, "a", 1), "without the lock nobody writes");
  cr_assert_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  cr_expect(put(cache, "a", 1));
  cr_expect(put(cache, "b", 2));
  cr_expect(put(cache, "a", 3));
  cr_expect_eq(get(cache, "a"), 3);
  cr_expect_eq(get(cache, "b"), 2);
  cr_expect_eq(get(cache, "c"), -1);
  why_cache_drop(cache, &(why_cache_key){"a", "label", 1});
  cr_expect_eq(get(cache, "a"), -1);
  cr_expect_eq(count_files(), 2, "the lock and b");
  why_cache_close(cache);
}

Test(cache, is_made_with_the_folder_it_lies_in_and_no_more) {
  cr_expect_null(why_cache_open(path_of("no/such/folder"), arena));
  why_cache* cache = why_cache_open(path_of("one/more"), arena);
  cr_expect_not_null(cache);
  why_cache_close(cache);
  cr_expect_null(why_cache_open("relative/folder", arena));
  cr_expect_null(why_cache_open("/", arena));
  cr_expect_null(why_cache_open("", arena));
}

Test(cache, may_lie_in_a_folder_at_the_top) {
  why_cache* cache = why_cache_open(home, arena); // /tmp lies in /
  cr_assert_not_null(cache);
  cr_assert_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  cr_expect(put(cache, "a", 3));
  cr_expect_eq(get(cache, "a"), 3);
  why_cache_close(cache);
}

Test(cache, is_not_for_others_eyes_or_hands) {
  static const mode_t modes[] = {0755, 0750, 0770, 0777, 0701};
  cr_assert_eq(mkdir(path_of("own"), 0700), 0);
  for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
    cr_assert_eq(chmod(path_of("own"), modes[i]), 0);
    cr_expect_null(why_cache_open(path_of("own"), arena), "mode %o", (unsigned)modes[i]);
  }
}

Test(cache, is_no_symbolic_link_and_no_file) {
  cr_assert_eq(mkdir(path_of("real"), 0700), 0);
  cr_assert_eq(symlink("real", path_of("own")), 0);
  cr_expect_null(why_cache_open(path_of("own"), arena));
  cr_expect_null(why_cache_open(path_of("own/"), arena), "nor by another spelling");
  int file = open(path_of("file"), O_CREAT | O_WRONLY, 0600);
  close(file);
  cr_expect_null(why_cache_open(path_of("file"), arena));
}

Test(cache, holds_plain_files_of_its_own_user_only) {
  why_cache* cache = open_cache();
  cr_assert_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  cr_assert(put(cache, "a", 1));
  cr_assert_eq(chmod(path_of("own/a.image"), 0620), 0);
  cr_expect_eq(get(cache, "a"), -1, "others can write");
  cr_assert_eq(chmod(path_of("own/a.image"), 0600), 0);
  cr_expect_eq(get(cache, "a"), 1);
  cr_assert_eq(rename(path_of("own/a.image"), path_of("own/real")), 0);
  cr_assert_eq(symlink("real", path_of("own/a.image")), 0);
  cr_expect_eq(get(cache, "a"), -1, "a symbolic link");
  cr_expect(put(cache, "a", 2), "it is replaced");
  cr_expect_eq(get(cache, "a"), 2);
  cr_assert_eq(mkfifo(path_of("own/b.image"), 0600), 0);
  cr_expect_eq(get(cache, "b"), -1, "a pipe is not waited for");
  why_cache_close(cache);
}

Test(cache, of_another_user_is_none) {
  if (geteuid() != 0)
    return; // only root can give a file away
  why_cache* cache = open_cache();
  cr_assert_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  cr_assert(put(cache, "a", 1));
  cr_assert_eq(chown(path_of("own/a.image"), 1, 1), 0);
  cr_expect_eq(get(cache, "a"), -1);
  why_cache_close(cache);
  cr_assert_eq(chown(path_of("own"), 1, 1), 0);
  cr_expect_null(why_cache_open(path_of("own"), arena));
  cr_assert_eq(mkdir(path_of("theirs"), 0755), 0);
  cr_assert_eq(chown(path_of("theirs"), 1, 1), 0);
  cr_expect_null(why_cache_open(path_of("theirs/own"), arena),
                 "nothing is left in others' folders");
  cr_assert_eq(rmdir(path_of("theirs")), 0);
}

Test(cache, has_one_writer_at_a_time) {
  why_cache* cache = open_cache();
  why_cache* other = open_cache();
  cr_expect_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  cr_expect_eq(why_cache_lock(other), WHY_LOCK_TAKEN);
  cr_expect(put(cache, "a", 1));
  cr_expect_eq(get(other, "a"), 1, "which keeps nobody from reading");
  why_cache_close(cache);
  cr_expect_eq(why_cache_lock(other), WHY_LOCK_OWN);
  why_cache_close(other);
}

Test(cache, gets_the_lock_of_a_writer_that_died_and_overwrites_what_it_left) {
  why_cache* cache = open_cache();
  pid_t child = fork();
  if (child == 0) {
    why_cache_lock(cache);
    int file = open(path_of("own/unfinished"), O_CREAT | O_WRONLY, 0600);
    _exit(file < 0 || write(file, "half", 4) != 4);
  }
  int status = 1;
  cr_assert_eq(waitpid(child, &status, 0), child);
  cr_assert_eq(status, 0);
  cr_expect_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  cr_expect(put(cache, "a", 1));
  cr_expect_eq(get(cache, "a"), 1);
  cr_expect_eq(count_files(), 2, "the lock and the image");
  why_cache_close(cache);
}

Test(cache, that_cannot_be_locked_has_no_writer) {
  why_cache* cache = open_cache();
  cr_assert_eq(mkdir(path_of("own/lock"), 0700), 0);
  cr_expect_eq(why_cache_lock(cache), WHY_LOCK_NONE);
  cr_expect_not(put(cache, "a", 1));
  why_cache_close(cache);
}

Test(cache, drops_the_oldest_and_nothing_else) {
  why_cache* cache = open_cache();
  cr_assert_eq(why_cache_lock(cache), WHY_LOCK_OWN);
  close(open(path_of("own/note"), O_CREAT | O_WRONLY, 0600));
  const time_t now = time(NULL);
  for (int i = 0; i < WHY_CACHE_KEPT + 3; i++) {
    const char* name = why_arena_print(arena, "n%d", i);
    cr_assert(put(cache, name, i));
    const struct timespec times[2] = {{.tv_sec = now - 1000 + i}, {.tv_sec = now - 1000 + i}};
    cr_assert_eq(
        utimensat(AT_FDCWD, path_of(why_arena_print(arena, "own/%s.image", name)), times, 0), 0);
  }
  cr_expect_eq(count_files(), WHY_CACHE_KEPT + 2);
  for (int i = 0; i < WHY_CACHE_KEPT + 3; i++)
    cr_expect_eq(get(cache, why_arena_print(arena, "n%d", i)), i < 3 ? -1 : i);
  const time_t long_ago = now - (time_t)(WHY_CACHE_KEPT_DAYS + 1) * 24 * 60 * 60;
  const struct timespec old[2] = {{.tv_sec = long_ago}, {.tv_sec = long_ago}};
  cr_assert_eq(utimensat(AT_FDCWD, path_of("own/n5.image"), old, 0), 0);
  cr_assert_eq(utimensat(AT_FDCWD, path_of("own/n6.image"), old, 0), 0);
  cr_expect_eq(get(cache, "n6"), 6, "what is read is not old any more");
  cr_assert(put(cache, "n7", 7));
  cr_expect_eq(get(cache, "n5"), -1);
  cr_expect_eq(get(cache, "n6"), 6);
  cr_expect_eq(access(path_of("own/note"), F_OK), 0);
  why_cache_close(cache);
}
