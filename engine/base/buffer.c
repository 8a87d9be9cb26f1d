// SPDX-License-Identifier: GPL-3.0-or-later
// Text that grows by doubling inside an arena.
#include "buffer.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { FIRST_ROOM = 64 };

const char* why_buffer_text(const why_buffer* buffer) {
  return buffer->text ? buffer->text : why_arena_copy(buffer->arena, "", 0);
}

static void make_room(why_buffer* buffer, size_t more) {
  if (buffer->room - buffer->length > more)
    return;
  if (more > SIZE_MAX / 4 - buffer->length)
    why_arena_exhaust(buffer->arena);
  size_t room = buffer->room ? buffer->room * 2 : FIRST_ROOM;
  while (room - buffer->length <= more)
    room *= 2;
  buffer->text = why_arena_grow(buffer->arena, buffer->text, buffer->room, room);
  buffer->room = room;
}

void why_buffer_add_bytes(why_buffer* buffer, const char* bytes, size_t length) {
  make_room(buffer, length);
  if (length)
    memcpy(buffer->text + buffer->length, bytes, length);
  buffer->length += length;
  buffer->text[buffer->length] = '\0';
}

void why_buffer_add(why_buffer* buffer, const char* text) {
  why_buffer_add_bytes(buffer, text, strlen(text));
}

// Printed straight into the room at the end, and once more where that was too short: a copy made
// first would stand behind the text in the arena and force it to move when it grows.
void why_buffer_print(why_buffer* buffer, const char* format, ...) {
  va_list arguments;
  va_list again;
  va_start(arguments, format);
  va_copy(again, arguments);
  make_room(buffer, FIRST_ROOM - 1);
  size_t room = buffer->room - buffer->length;
  int length = vsnprintf(buffer->text + buffer->length, room, format, arguments);
  if (length > 0 && (size_t)length >= room) {
    make_room(buffer, (size_t)length);
    vsnprintf(buffer->text + buffer->length, (size_t)length + 1, format, again);
  }
  if (length > 0)
    buffer->length += (size_t)length;
  buffer->text[buffer->length] = '\0';
  va_end(again);
  va_end(arguments);
}
