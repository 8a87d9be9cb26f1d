// SPDX-License-Identifier: GPL-3.0-or-later
// Room doubles. The server lives on the public headers alone, so it has no arena to borrow.
#include "bytes.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_ROOM = 4096, PRINTED = 512 };

static bool make_room(why_bytes* bytes, size_t length) {
  if (bytes->failed || length >= SIZE_MAX / 4 - bytes->length) {
    bytes->failed = true;
    return false;
  }
  size_t wanted = bytes->length + length + 1;
  if (wanted <= bytes->room)
    return true;
  size_t room = bytes->room ? bytes->room : FIRST_ROOM;
  while (room < wanted)
    room *= 2;
  char* moved = realloc(bytes->at, room);
  if (!moved) {
    bytes->failed = true;
    return false;
  }
  bytes->at = moved;
  bytes->room = room;
  return true;
}

void why_bytes_add(why_bytes* bytes, const char* piece, size_t length) {
  if (!make_room(bytes, length))
    return;
  memcpy(bytes->at + bytes->length, piece, length);
  bytes->length += length;
  bytes->at[bytes->length] = '\0';
}

void why_bytes_text(why_bytes* bytes, const char* text) {
  why_bytes_add(bytes, text, strlen(text));
}

void why_bytes_print(why_bytes* bytes, const char* form, ...) {
  char piece[PRINTED];
  va_list values;
  va_list again;
  va_start(values, form);
  va_copy(again, values);
  int length = vsnprintf(piece, sizeof piece, form, values);
  va_end(values);
  if (length < 0) {
    bytes->failed = true;
  } else if (length < PRINTED) {
    why_bytes_add(bytes, piece, (size_t)length);
  } else if (make_room(bytes, (size_t)length)) {
    vsnprintf(bytes->at + bytes->length, (size_t)length + 1, form, again);
    bytes->length += (size_t)length;
  }
  va_end(again);
}

static const char* reference_of(char byte) {
  switch (byte) {
  case '&':
    return "&amp;";
  case '<':
    return "&lt;";
  case '>':
    return "&gt;";
  case '"':
    return "&quot;";
  case '\'':
    return "&#39;";
  case '\r':
    return ""; // forms send line breaks as two characters
  default:
    return (unsigned char)byte < ' ' && byte != '\n' && byte != '\t' ? "\xEF\xBF\xBD" : NULL;
  }
}

void why_bytes_markup(why_bytes* bytes, const char* text) {
  const char* plain = text;
  for (const char* byte = text; *byte; byte++) {
    const char* reference = reference_of(*byte);
    if (!reference)
      continue;
    why_bytes_add(bytes, plain, (size_t)(byte - plain));
    why_bytes_text(bytes, reference);
    plain = byte + 1;
  }
  why_bytes_text(bytes, plain);
}

void why_bytes_address(why_bytes* bytes, const char* text) {
  for (const char* byte = text; *byte; byte++) {
    bool plain = (*byte >= 'a' && *byte <= 'z') || (*byte >= 'A' && *byte <= 'Z') ||
                 (*byte >= '0' && *byte <= '9') || strchr("-._~", *byte);
    if (plain)
      why_bytes_add(bytes, byte, 1);
    else
      why_bytes_print(bytes, "%%%02X", (unsigned)(unsigned char)*byte);
  }
}

bool why_bytes_sink(void* bytes, const char* piece, size_t length) {
  why_bytes_add(bytes, piece, length);
  return !((why_bytes*)bytes)->failed;
}

const char* why_bytes_of(const why_bytes* bytes) {
  return bytes->at ? bytes->at : "";
}

void why_bytes_clear(why_bytes* bytes) {
  bytes->length = 0;
  bytes->failed = false;
  if (bytes->at)
    *bytes->at = '\0';
}

void why_bytes_free(why_bytes* bytes) {
  free(bytes->at);
  *bytes = (why_bytes){0};
}
