// SPDX-License-Identifier: GPL-3.0-or-later
// Escaping for XML and HTML: one function decides what a character may be.
#include "markup.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/// Read one character; the bytes it takes, 0 when it is ill-formed.
static size_t decode(const unsigned char* text, uint32_t* code) {
  static const uint32_t SHORTEST[] = {0, 0, 0x80, 0x800, 0x10000};
  size_t length = *text < 0x80                   ? 1
                  : *text < 0xC2 || *text > 0xF4 ? 0
                  : *text < 0xE0                 ? 2
                  : *text < 0xF0                 ? 3
                                                 : 4;
  *code = length == 1 ? *text : *text & (0xFFu >> (length + 1));
  for (size_t i = 1; i < length; i++) {
    if ((text[i] & 0xC0) != 0x80)
      return 0;
    *code = *code << 6 | (text[i] & 0x3F);
  }
  bool surrogate = *code >= 0xD800 && *code <= 0xDFFF;
  return length && !surrogate && *code >= SHORTEST[length] && *code <= 0x10FFFF ? length : 0;
}

/// Characters of XML that neither control nor turn the direction of writing.
static bool may_stand(uint32_t code) {
  if (code < 0x20)
    return code == '\t' || code == '\n' || code == '\r';
  if (code >= 0x7F && code < 0xA0)
    return false;
  bool directs = code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
                 (code >= 0x2066 && code <= 0x2069);
  return !directs && code != 0xFFFE && code != 0xFFFF;
}

size_t why_markup_character(const char* text, bool* sound) {
  uint32_t code = 0;
  size_t length = decode((const unsigned char*)text, &code);
  *sound = length && may_stand(code);
  return length ? length : 1;
}

static const char* reference_for(char character) {
  switch (character) {
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
  default:
    return NULL;
  }
}

/// The bytes at `text` that are written as they stand, whatever follows: printable ASCII.
static size_t count_plain(const char* text) {
  size_t count = 0;
  while (text[count] >= ' ' && text[count] < 0x7F && !reference_for(text[count]))
    count++;
  return count;
}

void why_markup_text(why_buffer* out, const char* text) {
  for (;;) {
    size_t plain = count_plain(text);
    why_buffer_add_bytes(out, text, plain);
    text += plain;
    if (!*text)
      return;
    bool sound = false;
    size_t length = why_markup_character(text, &sound);
    const char* reference = reference_for(*text);
    if (!sound)
      why_buffer_add(out, WHY_REPLACEMENT);
    else if (reference)
      why_buffer_add(out, reference);
    else
      why_buffer_add_bytes(out, text, length);
    text += length;
  }
}

void why_markup_number(why_buffer* out, double number) {
  char digits[24]; // written from the end, since pictures hold thousands of numbers
  size_t at = sizeof digits;
  double limited = isfinite(number) ? fmin(fmax(number, -1e9), 1e9) : 0;
  long long hundredths = llround(limited * 100);
  long long size = hundredths < 0 ? -hundredths : hundredths;
  if (size % 10)
    digits[--at] = (char)('0' + size % 10);
  if (size % 100) {
    digits[--at] = (char)('0' + size / 10 % 10);
    digits[--at] = '.';
  }
  long long whole = size / 100;
  do
    digits[--at] = (char)('0' + whole % 10);
  while (whole /= 10);
  if (hundredths < 0)
    digits[--at] = '-';
  why_buffer_add_bytes(out, digits + at, sizeof digits - at);
}

void why_markup_attribute(why_buffer* out, const char* name, const char* text) {
  why_buffer_add(out, " ");
  why_buffer_add(out, name);
  why_buffer_add(out, "=\"");
  why_markup_text(out, text);
  why_buffer_add(out, "\"");
}

void why_markup_measure(why_buffer* out, const char* name, double number) {
  why_buffer_add(out, " ");
  why_buffer_add(out, name);
  why_buffer_add(out, "=\"");
  why_markup_number(out, number);
  why_buffer_add(out, "\"");
}

void why_markup_element(why_buffer* out, const char* name, const char* text) {
  why_buffer_print(out, "<%s>", name);
  why_markup_text(out, text);
  why_buffer_print(out, "</%s>", name);
}
