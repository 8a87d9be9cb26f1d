// SPDX-License-Identifier: GPL-3.0-or-later
// Text that grows by doubling inside an arena.
#include "buffer.h"

#include <stdio.h>
#include <string.h>

const char* why_buffer_text(const why_buffer* buffer) {
  return buffer->text ? buffer->text : "";
}

static void make_room(why_buffer* buffer, size_t more) {
  if (buffer->room - buffer->length > more)
    return;
  size_t room = buffer->room ? buffer->room * 2 : 64;
  while (room - buffer->length <= more)
    room *= 2;
  buffer->text = why_arena_grow(buffer->arena, buffer->text, buffer->room, room);
  buffer->room = room;
}

void why_buffer_add_bytes(why_buffer* buffer, const char* bytes, size_t length) {
  make_room(buffer, length);
  memcpy(buffer->text + buffer->length, bytes, length);
  buffer->length += length;
  buffer->text[buffer->length] = '\0';
}

void why_buffer_add(why_buffer* buffer, const char* text) {
  why_buffer_add_bytes(buffer, text, strlen(text));
}

void why_buffer_print(why_buffer* buffer, const char* format, ...) {
  va_list arguments;
  va_start(arguments, format);
  const char* text = why_arena_vprint(buffer->arena, format, arguments);
  va_end(arguments);
  why_buffer_add(buffer, text);
}
