// SPDX-License-Identifier: GPL-3.0-or-later
// What a snapshot is called and what it must be labelled with; who reads and who waits.
#include "snapshot.h"

#include <link.h>
#include <string.h>
#include <time.h>

struct why_snapshot {
  why_arena* arena;
  const char* folder; ///< As it was given.
  why_stamp stamp;
  why_cache* cache;
  why_cache_key key;
};

/// The start of the shared library or program that holds this code, as the linker names it.
// NOLINTNEXTLINE(bugprone-reserved-identifier)
extern const char __ehdr_start[] __attribute__((visibility("hidden")));

static size_t padded(size_t size) {
  return (size + 3) / 4 * 4;
}

/// The linker's digest of all code and constants (the note "GNU" of type NT_GNU_BUILD_ID of the ELF
/// format), in hexadecimal; NULL when the program was linked without.
static const char* find_build(why_arena* arena) {
  const char* start = __ehdr_start;
  const ElfW(Ehdr)* file = (const ElfW(Ehdr)*)start;
  const ElfW(Phdr)* part = (const ElfW(Phdr)*)(start + file->e_phoff);
  for (size_t i = 0; i < file->e_phnum; i++) {
    size_t at =
        part[i].p_offset; // the first segment holds header and notes as they stand in the file
    size_t end = at + part[i].p_filesz;
    while (part[i].p_type == PT_NOTE && at + sizeof(ElfW(Nhdr)) <= end) {
      const ElfW(Nhdr)* note = (const ElfW(Nhdr)*)(start + at);
      const char* name = start + at + sizeof *note;
      const char* bytes = name + padded(note->n_namesz);
      at += sizeof *note + padded(note->n_namesz) + padded(note->n_descsz);
      if (note->n_type == NT_GNU_BUILD_ID && note->n_namesz == sizeof ELF_NOTE_GNU &&
          memcmp(name, ELF_NOTE_GNU, sizeof ELF_NOTE_GNU) == 0)
        return why_digest_of(arena, bytes, note->n_descsz);
    }
  }
  return NULL;
}

/// A name for each folder and program, so that several do not drive each other out; the address
/// follows from it, so that two can be in use in one process.
static why_cache_key key_of(why_arena* arena, const why_stamp* stamp, const char* build) {
  const char* whose = why_arena_print(arena, "%s %s", build, stamp->folder);
  const char* name = why_digest_of(arena, whose, strlen(whose));
  unsigned slot = 0;
  for (const char* c = name; *c; c++)
    slot = slot * 31 + (unsigned char)*c;
  return (why_cache_key){.name = name,
                         .label = why_arena_print(arena, "build %s files %s", build, stamp->digest),
                         .slot = slot % WHY_IMAGE_SLOTS};
}

why_snapshot* why_snapshot_open(const char* folder, const char* cache, why_arena* arena) {
  const char* build = find_build(arena);
  why_snapshot* made = WHY_NEW(arena, why_snapshot);
  *made = (why_snapshot){.arena = arena, .folder = folder};
  if (!build || !why_stamp_read(folder, arena, &made->stamp))
    return NULL;
  made->key = key_of(arena, &made->stamp, build);
  made->cache = why_cache_open(cache, arena);
  return made->cache ? made : NULL;
}

void why_snapshot_close(why_snapshot* snapshot) {
  if (snapshot)
    why_cache_close(snapshot->cache);
}

static void wait_a_little(void) {
  nanosleep(&(struct timespec){.tv_nsec = 20 * 1000 * 1000}, NULL);
}

const why_ground* why_snapshot_find(why_snapshot* snapshot, why_arena** kept) {
  // A minute: on a busy machine reading takes long, and all who gave up would read at once, each
  // with ten times the memory. There is a limit since whoever reads may have been stopped.
  enum { WAITS_LIMIT = 3000 };
  for (int waits = 0; waits < WAITS_LIMIT; waits++) {
    const void* root = NULL;
    *kept = why_cache_read(snapshot->cache, &snapshot->key, &root);
    if (*kept)
      return root;
    if (why_cache_is_locked(snapshot->cache) || !snapshot->stamp.settled)
      return NULL;
    why_cache_lock_state lock = why_cache_lock(snapshot->cache);
    if (lock == WHY_LOCK_NONE)
      return NULL;
    if (lock == WHY_LOCK_TAKEN) // with the lock, look once more: it may have been written
      wait_a_little();
  }
  return NULL;
}

why_arena* why_snapshot_arena(why_snapshot* snapshot) {
  return why_cache_is_locked(snapshot->cache) ? why_image_new(snapshot->key.slot) : NULL;
}

void why_snapshot_write(why_snapshot* snapshot, const why_arena* arena, const why_ground* ground) {
  why_stamp now;
  if (why_stamp_read(snapshot->folder, snapshot->arena, &now) &&
      strcmp(now.digest, snapshot->stamp.digest) == 0)
    why_cache_write(snapshot->cache, &snapshot->key, arena, ground);
}

bool why_snapshot_differs(why_snapshot* snapshot, const char* digest) {
  const void* root = NULL;
  why_arena* kept = why_cache_read(snapshot->cache, &snapshot->key, &root);
  if (!kept)
    return false;
  const why_ground* ground = root;
  bool differs = strcmp(ground->tables->digest, digest) != 0;
  why_arena_free(kept);
  if (differs)
    why_cache_drop(snapshot->cache, &snapshot->key);
  return differs;
}
