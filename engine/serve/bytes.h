// SPDX-License-Identifier: GPL-3.0-or-later
/// Text that grows, on the heap. Once memory runs out it stays `failed` and takes nothing more, so
/// that only the end of a piece of work needs to look.
#ifndef WHY_SERVE_BYTES_H
#define WHY_SERVE_BYTES_H

#include <stdbool.h>
#include <stddef.h>

/// Zeroed is empty. `at` ends with a zero that `length` does not count; NULL while empty.
typedef struct {
  char* at;
  size_t length;
  size_t room;
  bool failed;
} why_bytes;

void why_bytes_add(why_bytes* bytes, const char* piece, size_t length);
void why_bytes_text(why_bytes* bytes, const char* text);

#if defined(__GNUC__)
__attribute__((format(printf, 2, 3)))
#endif
void why_bytes_print(why_bytes* bytes, const char* form, ...);

/// Text between tags or in quotation marks of HTML: the five characters that mean something there
/// are written as references, and control characters, which XML has no way to write, as U+FFFD.
void why_bytes_markup(why_bytes* bytes, const char* text);

/// A part of an address: all but letters, digits and "-._~" in percent (RFC 3986, 2.1 and 2.3).
void why_bytes_address(why_bytes* bytes, const char* text);

/// A why_sink (whylift/tell.h) whose user is a why_bytes.
bool why_bytes_sink(void* bytes, const char* piece, size_t length);

/// The text; never NULL.
const char* why_bytes_of(const why_bytes* bytes);

/// Empty it, keeping the room; and give the room back.
void why_bytes_clear(why_bytes* bytes);
void why_bytes_free(why_bytes* bytes);

#endif
