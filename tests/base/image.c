// SPDX-License-Identifier: GPL-3.0-or-later
// Arenas in files: what was written comes back at the same address and cannot be changed; what was
// damaged, cut short, or is of something else does not come back; what no file can hold is not
// written.
#include "base/image.h"

#include "base/list.h"

#include <criterion/criterion.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

enum { SLOT = 7, HEADER = 64 * 1024 };

static const char LABEL[] = "the label";

/// A chain whose end is its beginning, with texts.
typedef struct link {
  struct link* next;
  const char* text;
} chain;

enum { LINKS = 5000 };

static int new_file(void) {
  char path[] = "/tmp/why-image-XXXXXX";
  int file = mkstemp(path);
  cr_assert_geq(file, 0);
  unlink(path);
  return file;
}

static why_arena* new_image(void) {
  why_arena* arena = why_image_new(SLOT);
  cr_assert_not_null(arena);
  return arena;
}

static chain* make_chain(why_arena* arena) {
  chain* first = WHY_NEW(arena, chain);
  chain* last = first;
  for (int i = 0; i < LINKS; i++) {
    last->text = why_arena_print(arena, "number %d", i);
    last->next = i + 1 < LINKS ? WHY_NEW(arena, chain) : first;
    last = last->next;
  }
  return first;
}

static void check_chain(const chain* first) {
  const chain* at = first;
  char text[32];
  for (int i = 0; i < LINKS; i++, at = at->next) {
    snprintf(text, sizeof text, "number %d", i);
    cr_assert_str_eq(at->text, text);
  }
  cr_assert_eq(at, first);
}

/// A file with a chain.
static int write_chain(void) {
  int file = new_file();
  why_arena* arena = new_image();
  cr_assert(why_image_write(arena, make_chain(arena), LABEL, file));
  why_arena_free(arena);
  return file;
}

static bool can_read(int file) {
  const void* root = NULL;
  why_arena* arena = why_image_read(file, SLOT, LABEL, &root);
  if (!arena)
    return false;
  check_chain(root);
  why_arena_free(arena);
  return true;
}

Test(image, comes_back_as_it_was) {
  int file = write_chain();
  cr_expect(can_read(file));
  cr_expect(can_read(file), "and once more");
}

Test(image, cannot_be_changed, .signal = SIGSEGV) {
  const void* root = NULL;
  int file = write_chain();
  cr_assert_not_null(why_image_read(file, SLOT, LABEL, &root));
  signal(SIGSEGV, SIG_DFL); // the address sanitizer would take it
  ((chain*)(uintptr_t)root)->next = NULL;
}

Test(image, is_only_read_by_who_knows_its_label_and_address) {
  const void* root = NULL;
  int file = write_chain();
  cr_expect_null(why_image_read(file, SLOT, "the labels", &root));
  cr_expect_null(why_image_read(file, SLOT, "", &root));
  cr_expect_null(why_image_read(file, SLOT + 1, LABEL, &root));
  why_arena* other = why_image_new(SLOT);
  cr_expect_null(why_image_read(file, SLOT, LABEL, &root), "something is at its address");
  cr_expect_null(why_image_new(SLOT));
  why_arena_free(other);
  cr_expect(can_read(file));
}

Test(image, needs_its_whole_file) {
  int file = write_chain();
  struct stat found;
  cr_assert_eq(fstat(file, &found), 0);
  for (off_t cut = 0; cut < found.st_size; cut += cut < 500 ? 1 : 4099) {
    int copy = new_file();
    char* bytes = malloc((size_t)found.st_size);
    cr_assert_eq(pread(file, bytes, (size_t)cut, 0), cut);
    cr_assert_eq(pwrite(copy, bytes, (size_t)cut, 0), cut);
    cr_expect_not(can_read(copy), "%jd bytes", (intmax_t)cut);
    free(bytes);
    close(copy);
  }
  cr_assert_eq(ftruncate(file, found.st_size + 1), 0);
  cr_expect_not(can_read(file), "one byte more");
}

/// Of the unused rest of the header nobody takes notice; any other byte is missed.
Test(image, misses_every_byte) {
  int file = write_chain();
  struct stat found;
  cr_assert_eq(fstat(file, &found), 0);
  unsigned seed = 12345;
  for (int round = 0; round < 3000; round++) {
    seed = seed * 1103515245U + 12345U;
    off_t at = round < 300 ? round : HEADER + (off_t)(seed >> 4) % (found.st_size - HEADER);
    unsigned char byte = 0;
    cr_assert_eq(pread(file, &byte, 1, at), 1);
    unsigned char other = (unsigned char)(byte ^ (1U << round % 8));
    cr_assert_eq(pwrite(file, &other, 1, at), 1);
    cr_expect_not(can_read(file), "byte %jd", (intmax_t)at);
    cr_assert_eq(pwrite(file, &byte, 1, at), 1);
  }
  cr_expect(can_read(file));
}

Test(image, holds_no_pointer_to_the_outside) {
  static const char CONSTANT[] = "of the program";
  char local = 0;
  void* heap = malloc(10);
  const void* const strangers[] = {CONSTANT, &local, heap, (const void*)(uintptr_t)malloc, stdout};
  size_t count = sizeof strangers / sizeof *strangers;
#ifdef __SANITIZE_ADDRESS__
  count = 2; // its heap and its stand-ins for functions are passed over
#endif
  for (size_t i = 0; i < count; i++) {
    if ((uint32_t)(uintptr_t)strangers[i] < 1U << 20)
      continue; // one address of 4096 looks like two small numbers side by side
    why_arena* arena = new_image();
    chain* made = make_chain(arena);
    const void** bad = WHY_NEW(arena, const void*);
    cr_expect_null(why_image_stranger(arena));
    *bad = strangers[i];
    int file = new_file();
    cr_expect_eq(why_image_stranger(arena), bad, "stranger %zu", i);
    cr_expect_not(why_image_write(arena, made, LABEL, file), "stranger %zu", i);
    close(file);
    why_arena_free(arena);
  }
  free(heap);
}

static void nothing(void* object) {
  (void)object;
}

Test(image, is_refused_while_it_owes_something) {
  int file = new_file();
  why_arena* arena = new_image();
  const chain* made = make_chain(arena);
  why_arena_scratch(arena);
  cr_expect_not(why_image_write(arena, made, LABEL, file), "there is a scratch");
  why_arena_settle(arena);
  cr_expect(why_image_write(arena, made, LABEL, file));
  why_arena_defer(arena, nothing, arena);
  cr_expect_not(why_image_write(arena, made, LABEL, file), "there is a clean-up");
  why_arena_free(arena);
  why_arena* plain = why_arena_new(0);
  cr_expect_not(why_image_write(plain, WHY_NEW(plain, chain), LABEL, file), "it has no address");
  why_arena_free(plain);
}

Test(image, is_not_written_beyond_the_limit_of_files) {
  why_arena* arena = new_image();
  const chain* made = make_chain(arena);
  int file = new_file();
  struct rlimit limit = {.rlim_cur = 1000, .rlim_max = RLIM_INFINITY};
  cr_assert_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
  cr_expect_not(why_image_write(arena, made, LABEL, file));
  why_arena_free(arena);
}

Test(image, is_not_written_to_a_full_disk) {
  why_arena* arena = new_image();
  int file = open("/dev/full", O_WRONLY);
  cr_assert_geq(file, 0);
  cr_expect_not(why_image_write(arena, make_chain(arena), LABEL, file));
  why_arena_free(arena);
}

static void count_up(void* object) {
  ++*(int*)object;
}

/// Each process fills the holders for itself, in an image that it cannot change otherwise.
Test(image, has_holders_that_are_empty_again) {
  int cleaned = 0, other = 0;
  int file = new_file();
  why_arena* arena = new_image();
  why_holder** made = WHY_NEW(arena, why_holder*);
  *made = why_arena_holder(arena);
  cr_expect_null(why_holder_object(*made));
  cr_expect_eq(why_holder_fill(*made, &cleaned, count_up), &cleaned);
  cr_assert(why_image_write(arena, made, LABEL, file));
  why_arena_free(arena);
  cr_expect_eq(cleaned, 1);
  const void* root = NULL;
  arena = why_image_read(file, SLOT, LABEL, &root);
  cr_assert_not_null(arena);
  why_holder* holder = *(why_holder* const*)root;
  cr_expect_null(why_holder_object(holder));
  cr_expect_eq(why_holder_fill(holder, &cleaned, count_up), &cleaned);
  cr_expect_eq(why_holder_fill(holder, &other, count_up), &cleaned, "it is taken");
  cr_expect_eq(other, 1, "what came too late is cleaned");
  why_arena_free(arena);
  cr_expect_eq(cleaned, 2);
}

/// More holders than there is room for are holders all the same, but then there is no image.
Test(image, without_room_for_holders_is_none) {
  int file = new_file(), cleaned = 0;
  why_arena* arena = new_image();
  const chain* made = make_chain(arena);
  cr_expect(why_image_write(arena, made, LABEL, file));
  for (int i = 0; i < 10000; i++)
    why_holder_fill(why_arena_holder(arena), &cleaned, count_up);
  cr_expect_not(why_image_write(arena, made, LABEL, file));
  why_arena_free(arena);
  cr_expect_eq(cleaned, 10000);
}

/// What lists leave behind as they grow is used again, zeroed, and never twice at a time.
Test(image, uses_again_what_lists_leave_behind) {
  enum { LISTS = 50, ITEMS = 3000 };
  typedef struct {
    WHY_LIST(uint32_t) items;
  } list;
  why_arena* arena = new_image();
  list lists[LISTS] = {0};
  size_t live = 0;
  for (uint32_t i = 0; i < LISTS; i++)
    for (uint32_t n = 0; n < ITEMS; n++)
      *WHY_LIST_ADD(arena, lists[i].items) = n * LISTS + i;
  for (uint32_t i = 0; i < LISTS; i++) {
    live += lists[i].items.room * sizeof(uint32_t);
    for (uint32_t n = 0; n < ITEMS; n++)
      cr_assert_eq(lists[i].items.at[n], n * LISTS + i);
    for (size_t n = ITEMS; n < lists[i].items.room; n++)
      cr_assert_eq(lists[i].items.at[n], 0);
  }
  cr_expect_lt(why_arena_used(arena), live + live / 10);
  why_arena_free(arena);
}
