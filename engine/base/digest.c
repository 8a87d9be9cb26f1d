// SPDX-License-Identifier: GPL-3.0-or-later
// SHA-256 by nettle, shortened to what a person can compare by eye.
#include "digest.h"

#include "buffer.h"

#include <nettle/sha2.h>

enum { SHOWN_BYTES = 8 };

const char* why_digest_of(why_arena* arena, const char* bytes, size_t length) {
  struct sha256_ctx context;
  sha256_init(&context);
  sha256_update(&context, length, (const uint8_t*)bytes);
  uint8_t digest[SHA256_DIGEST_SIZE];
  sha256_digest(&context, sizeof digest, digest);
  why_buffer text = {.arena = arena};
  for (int i = 0; i < SHOWN_BYTES; i++)
    why_buffer_print(&text, "%02x", digest[i]);
  return why_buffer_text(&text);
}
