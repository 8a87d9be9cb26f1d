// SPDX-License-Identifier: GPL-3.0-or-later
// A file is a header and then the bytes of the arena as they stand in memory; stretches that are
// all zero are left out of the file system's blocks. The checksum (XXH3 of the xxhash library) is
// there against accidents; that no one else can write the file is seen to in cache.c.
#include "image.h"

#include "arena_inner.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>
#include <xxhash.h>

// Far from where Linux puts programs, libraries, heaps and stacks, and from where the address
// sanitizer keeps its shadow, on machines with addresses of 47 bits or more. Elsewhere there is no
// image. Parts are whole pages on machines with pages of up to 64 kB.
#define FIRST_ADDRESS UINT64_C(0x200000000000)
#define REACH         ((size_t)4096 * 1024 * 1024) ///< Bytes from one address to the next.
#define PART          ((size_t)64 * 1024)
#define HOLDERS_AT    PART       ///< Behind the arena's own struct.
#define PIECES_AT     (2 * PART) ///< Behind the holders.

static const char MAGIC[] = "whylift image 1";

typedef struct {
  char magic[sizeof MAGIC];
  char label[WHY_LABEL_LIMIT];
  uint64_t address;
  uint64_t length; ///< Of the image, behind a header of one part.
  uint64_t root;
  uint64_t check;  ///< Of the image.
  uint64_t itself; ///< Check of the header up to here.
} header;

static void* address_of(unsigned slot) {
  // NOLINTNEXTLINE(performance-no-int-to-ptr): an address of our own choice
  return (void*)(uintptr_t)(FIRST_ADDRESS + (uint64_t)(slot % WHY_IMAGE_SLOTS) * REACH);
}

/// Map at exactly `address`, where nothing must be; NULL when that cannot be.
static void* map_at(void* address, size_t length, int protection, int flags, int file) {
  void* got = mmap(address, length, protection, MAP_PRIVATE | MAP_FIXED_NOREPLACE | flags, file,
                   file < 0 ? 0 : (off_t)PART);
  if (got == MAP_FAILED)
    return NULL;
  if (got == address)
    return got;
  munmap(got, length); // an older kernel, which takes the address for a wish
  return NULL;
}

why_arena* why_image_new(unsigned slot) {
  why_arena* made =
      map_at(address_of(slot), REACH, PROT_READ | PROT_WRITE, MAP_ANONYMOUS | MAP_NORESERVE, -1);
  if (!made)
    return NULL;
  why_block* pieces = (why_block*)((char*)made + PIECES_AT);
  *pieces = (why_block){.room = REACH - PIECES_AT - sizeof *pieces};
  *made = (why_arena){.newest = pieces,
                      .held = pieces->room,
                      .mapped = REACH,
                      .holders = (why_holder*)((char*)made + HOLDERS_AT),
                      .holder_room = PART / sizeof(why_holder)};
  return made;
}

bool why_image_is(const why_arena* arena) {
  return arena->mapped == REACH;
}

/// Bytes from the start of the arena to behind its last piece, whole parts.
static size_t length_of(const why_arena* arena) {
  size_t used = PIECES_AT + sizeof *arena->newest + arena->newest->used;
  return (used + PART - 1) / PART * PART;
}

// ---- what lies outside ----

typedef struct {
  uint64_t from;
  uint64_t to;
} range;

enum { RANGES_LIMIT = 4096 };

typedef struct {
  range at[RANGES_LIMIT];
  size_t count;
} ranges;

/// The address sanitizer has its shadow at low addresses, so large that nearly every number lies in
/// it, and its heap at round ones, which pairs of small numbers look like.
static bool is_sanitizers(const range* each) {
#ifdef __SANITIZE_ADDRESS__
  return each->from < FIRST_ADDRESS || each->from >> 44 == 6;
#else
  (void)each;
  return false;
#endif
}

/// All that is mapped in this process but the arena, in order of addresses. False when the machine
/// does not tell.
static bool read_ranges(const why_arena* arena, ranges* all) {
  FILE* maps = fopen("/proc/self/maps", "re");
  char line[512];
  bool sound = maps != NULL;
  all->count = 0;
  while (sound && fgets(line, sizeof line, maps)) {
    range each = {0};
    char* end = NULL;
    each.from = strtoull(line, &end, 16);
    each.to = *end == '-' ? strtoull(end + 1, &end, 16) : 0;
    sound = each.to > each.from && all->count < RANGES_LIMIT;
    while (sound && !strchr(line, '\n') && fgets(line, sizeof line, maps)) // a long name
      continue;
    bool own = each.from >= (uintptr_t)arena && each.from < (uintptr_t)arena + arena->mapped;
    if (sound && !own && !is_sanitizers(&each))
      all->at[all->count++] = each;
  }
  if (maps)
    fclose(maps);
  return sound && all->count;
}

static bool is_in_ranges(const ranges* all, uint64_t word) {
  size_t low = 0;
  size_t high = all->count;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (word >= all->at[middle].to)
      low = middle + 1;
    else
      high = middle;
  }
  return low < all->count && word >= all->at[low].from;
}

/// Two small numbers of 32 bits side by side, such as the ids of neighbours: as an address they
/// would stand in the first bytes of a stretch of 4 GiB, where hardly anything is ever mapped.
static bool is_pair(uint64_t word) {
  return (uint32_t)word < 1U << 20;
}

const void* why_image_stranger(const why_arena* arena) {
  ranges* all = malloc(sizeof *all);
  const uint64_t* found = NULL;
  const uint64_t* first = (const uint64_t*)arena->newest->bytes;
  if (!all || !read_ranges(arena, all))
    found = first;
  for (size_t i = 0; !found && i < arena->newest->used / sizeof *first; i++)
    if (first[i] >= all->at[0].from && !is_pair(first[i]) && is_in_ranges(all, first[i]))
      found = &first[i];
  free(all);
  return found;
}

// ---- writing ----

static bool write_all(int file, const char* bytes, size_t length, size_t at) {
  while (length) {
    ssize_t put = pwrite(file, bytes, length, (off_t)at);
    if (put <= 0)
      return false;
    bytes += put;
    at += (size_t)put;
    length -= (size_t)put;
  }
  return true;
}

static bool is_zero(const char* bytes, size_t length) {
  return bytes[0] == 0 && memcmp(bytes, bytes + 1, length - 1) == 0;
}

/// The arena as a reader finds it: nobody's door, no scratch, and no larger than it is.
static void write_own(const why_arena* arena, char* part) {
  why_arena* own = (why_arena*)part;
  *own = *arena;
  own->door = NULL;
  own->mapped = length_of(arena);
}

/// The bytes of the image, part after part, with their check.
static bool write_parts(const why_arena* arena, int file, char* part, XXH3_state_t* state) {
  size_t length = length_of(arena);
  XXH3_64bits_reset(state);
  for (size_t at = 0; at < length; at += PART) {
    const char* bytes = (const char*)arena + at;
    if (at < PIECES_AT) {
      memset(part, 0, PART);
      bytes = part;
    }
    if (at == 0)
      write_own(arena, part);
    XXH3_64bits_update(state, bytes, PART);
    if (!is_zero(bytes, PART) && !write_all(file, bytes, PART, PART + at))
      return false;
  }
  return ftruncate(file, (off_t)(PART + length)) == 0;
}

/// Writing beyond the limit would end the process by a signal.
static bool is_within_limits(size_t length) {
  struct rlimit limit;
  return getrlimit(RLIMIT_FSIZE, &limit) == 0 && limit.rlim_cur >= length;
}

bool why_image_write(const why_arena* arena, const void* root, const char* label, int file) {
  if (!why_image_is(arena) || arena->deferred || arena->branch ||
      strlen(label) >= WHY_LABEL_LIMIT || !is_within_limits(PART + length_of(arena)) ||
      why_image_stranger(arena))
    return false;
  char* part = malloc(PART);
  XXH3_state_t* state = XXH3_createState();
  bool written = part && state && write_parts(arena, file, part, state);
  if (written) {
    header made;
    memset(&made, 0, sizeof made);
    made.address = (uintptr_t)arena;
    made.length = length_of(arena);
    made.root = (uintptr_t)root;
    made.check = XXH3_64bits_digest(state);
    memcpy(made.magic, MAGIC, sizeof MAGIC);
    memcpy(made.label, label, strlen(label));
    made.itself = XXH3_64bits(&made, offsetof(header, itself));
    written = write_all(file, (const char*)&made, sizeof made, 0);
  }
  XXH3_freeState(state);
  free(part);
  return written;
}

// ---- reading ----

static bool is_sound(const header* found, int file, unsigned slot, const char* label) {
  struct stat state;
  return memcmp(found->magic, MAGIC, sizeof MAGIC) == 0 &&
         found->itself == XXH3_64bits(found, offsetof(header, itself)) &&
         memchr(found->label, '\0', sizeof found->label) && strcmp(found->label, label) == 0 &&
         found->address == (uintptr_t)address_of(slot) && found->length > PIECES_AT &&
         found->length <= REACH && found->length % PART == 0 &&
         found->root - found->address < found->length && fstat(file, &state) == 0 &&
         (uint64_t)state.st_size == PART + found->length;
}

/// The check of `length` bytes behind the header, as they are read: what is only mapped would all
/// count as memory of this process once it is looked at.
static bool is_whole(int file, size_t length, uint64_t check) {
  char* part = malloc(PART);
  XXH3_state_t* state = XXH3_createState();
  bool sound = part && state && XXH3_64bits_reset(state) == XXH_OK;
  for (size_t at = 0; sound && at < length; at += PART) {
    sound = pread(file, part, PART, (off_t)(PART + at)) == (ssize_t)PART;
    if (sound)
      XXH3_64bits_update(state, part, PART);
  }
  sound = sound && XXH3_64bits_digest(state) == check;
  XXH3_freeState(state);
  free(part);
  return sound;
}

why_arena* why_image_read(int file, unsigned slot, const char* label, const void** root) {
  header found;
  if (pread(file, &found, sizeof found, 0) != (ssize_t)sizeof found ||
      !is_sound(&found, file, slot, label) || !is_whole(file, (size_t)found.length, found.check))
    return NULL;
  char* got = map_at(address_of(slot), (size_t)found.length, PROT_READ, 0, file);
  if (!got)
    return NULL;
  if (mmap(got + HOLDERS_AT, PART, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_FIXED | MAP_ANONYMOUS,
           -1, 0) == MAP_FAILED) {
    munmap(got, (size_t)found.length);
    return NULL;
  }
  *root = got + (found.root - found.address);
  return (why_arena*)got;
}
