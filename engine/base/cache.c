// SPDX-License-Identifier: GPL-3.0-or-later
// Every file is reached from the open folder, never by its path, so that nothing on the way can be
// exchanged once the folder was looked at. An image is written under another name and then renamed:
// readers see an old one or a new one, and those that have an old one keep it.
#include "cache.h"

#include "image.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

struct why_cache {
  why_arena* arena;
  int folder;
  int lock; ///< -1: somebody else's.
};

static const char ENDING[] = ".image";
static const char LOCK[] = "lock";
static const char UNFINISHED[] = "unfinished";

/// Whether what is open belongs to this user and to nobody else.
static bool is_own(int file, mode_t kind) {
  struct stat found;
  return fstat(file, &found) == 0 && (found.st_mode & S_IFMT) == kind &&
         found.st_uid == geteuid() && (found.st_mode & (S_IRWXG | S_IRWXO)) == 0;
}

/// Make `path` unless it is there; only in a folder that is this user's.
static bool make_folder(const char* path, const char* within) {
  struct stat found;
  if (lstat(path, &found) == 0)
    return true;
  return stat(within, &found) == 0 && found.st_uid == geteuid() &&
         (mkdir(path, S_IRWXU) == 0 || errno == EEXIST);
}

/// The folder that the absolute `path` lies in; "/" lies in itself.
static const char* folder_above(const char* path, why_arena* arena) {
  const char* slash = strrchr(path, '/');
  return slash == path ? "/" : why_arena_copy(arena, path, (size_t)(slash - path));
}

why_cache* why_cache_open(const char* path, why_arena* arena) {
  size_t length = strlen(path);
  while (length && path[length - 1] == '/') // with a slash at its end a link would be followed
    length--;
  const char* folder = why_arena_copy(arena, path, length);
  if (*folder != '/')
    return NULL;
  const char* above = folder_above(folder, arena);
  if (!make_folder(above, folder_above(above, arena)) || !make_folder(folder, above))
    return NULL;
  why_cache* made = WHY_NEW(arena, why_cache);
  int file = open(folder, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  *made = (why_cache){.arena = arena, .folder = file, .lock = -1};
  if (file >= 0 && is_own(file, S_IFDIR))
    return made;
  why_cache_close(made);
  return NULL;
}

void why_cache_close(why_cache* cache) {
  if (!cache)
    return;
  if (cache->lock >= 0)
    close(cache->lock);
  if (cache->folder >= 0)
    close(cache->folder);
}

static const char* file_name(const why_cache* cache, const why_cache_key* key) {
  return why_arena_print(cache->arena, "%s%s", key->name, ENDING);
}

why_arena* why_cache_read(const why_cache* cache, const why_cache_key* key, const void** root) {
  int file =
      openat(cache->folder, file_name(cache, key), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (file < 0)
    return NULL;
  why_arena* got = NULL;
  if (is_own(file, S_IFREG))
    got = why_image_read(file, key->slot, key->label, root);
  if (got)
    futimens(file, NULL); // for as long as it is read it is not old
  close(file);
  return got;
}

why_cache_lock_state why_cache_lock(why_cache* cache) {
  int file = openat(cache->folder, LOCK, O_RDWR | O_CREAT | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC,
                    S_IRUSR | S_IWUSR);
  if (file < 0)
    return WHY_LOCK_NONE;
  errno = 0;
  if (is_own(file, S_IFREG) && flock(file, LOCK_EX | LOCK_NB) == 0) {
    cache->lock = file;
    return WHY_LOCK_OWN;
  }
  bool taken = errno == EWOULDBLOCK;
  close(file);
  return taken ? WHY_LOCK_TAKEN : WHY_LOCK_NONE;
}

bool why_cache_is_locked(const why_cache* cache) {
  return cache->lock >= 0;
}

// ---- dropping the oldest ----

enum { NAME_ROOM = 256 };

static bool is_image(const char* name) {
  size_t length = strlen(name);
  return length >= sizeof ENDING && length < NAME_ROOM &&
         strcmp(name + length + 1 - sizeof ENDING, ENDING) == 0;
}

/// Drop the oldest image if there are too many, or if nobody has read it for long; whether it was.
static bool drop_oldest(DIR* folder) {
  char oldest[NAME_ROOM] = "";
  time_t time_of_oldest = 0;
  size_t count = 0;
  rewinddir(folder);
  for (const struct dirent* entry = readdir(folder); entry; entry = readdir(folder)) {
    struct stat found;
    if (!is_image(entry->d_name) ||
        fstatat(dirfd(folder), entry->d_name, &found, AT_SYMLINK_NOFOLLOW) != 0)
      continue;
    if (count++ && found.st_mtime >= time_of_oldest)
      continue;
    time_of_oldest = found.st_mtime;
    memcpy(oldest, entry->d_name, strlen(entry->d_name) + 1);
  }
  time_t days = (time(NULL) - time_of_oldest) / (24 * 60 * 60);
  return count && (count > WHY_CACHE_KEPT || days > WHY_CACHE_KEPT_DAYS) &&
         unlinkat(dirfd(folder), oldest, 0) == 0;
}

static void prune(const why_cache* cache) {
  int again = openat(cache->folder, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  DIR* folder = again < 0 ? NULL : fdopendir(again);
  if (!folder) {
    if (again >= 0)
      close(again);
    return;
  }
  while (drop_oldest(folder))
    continue;
  closedir(folder);
}

// ---- writing ----

bool why_cache_write(const why_cache* cache, const why_cache_key* key, const why_arena* arena,
                     const void* root) {
  if (cache->lock < 0)
    return false;
  const char* name = file_name(cache, key);
  unlinkat(cache->folder, UNFINISHED, 0); // of a writer that was ended
  int file = openat(cache->folder, UNFINISHED, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC,
                    S_IRUSR | S_IWUSR);
  if (file < 0)
    return false;
  bool written = why_image_write(arena, root, key->label, file);
  written = close(file) == 0 && written;
  written = written && renameat(cache->folder, UNFINISHED, cache->folder, name) == 0;
  if (!written)
    unlinkat(cache->folder, UNFINISHED, 0);
  else
    prune(cache);
  return written;
}

void why_cache_drop(const why_cache* cache, const why_cache_key* key) {
  unlinkat(cache->folder, file_name(cache, key), 0);
}
