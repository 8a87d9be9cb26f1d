// SPDX-License-Identifier: GPL-3.0-or-later
// The digest against the examples published with the standard: NIST, "Example values for the Secure
// Hash Standard, FIPS 180-4", SHA-256 of "abc", of the empty text and of a text of two blocks; and
// the million times "a" of FIPS 180-2, appendix B.3. Only the first 16 digits are shown.
#include "base/digest.h"

#include <criterion/criterion.h>
#include <string.h>

static void expect(const char* text, size_t length, const char* digest) {
  why_arena* arena = why_arena_new(0);
  cr_expect_str_eq(why_digest_of(arena, text, length), digest);
  why_arena_free(arena);
}

Test(digest, published_examples) {
  const char* two_blocks = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
  expect("abc", 3, "ba7816bf8f01cfea");
  expect("", 0, "e3b0c44298fc1c14");
  expect(two_blocks, strlen(two_blocks), "248d6a61d20638b8");
}

Test(digest, a_million_letters) {
  enum { MILLION = 1000000 };
  why_arena* arena = why_arena_new(0);
  char* text = why_arena_alloc(arena, MILLION);
  memset(text, 'a', MILLION);
  expect(text, MILLION, "cdc76e5c9914fb92");
  why_arena_free(arena);
}

Test(digest, counts_bytes_behind_a_zero) {
  why_arena* arena = why_arena_new(0);
  cr_expect_str_neq(why_digest_of(arena, "a\0b", 3), why_digest_of(arena, "a\0c", 3));
  why_arena_free(arena);
}
