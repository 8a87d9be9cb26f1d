// SPDX-License-Identifier: GPL-3.0-or-later
// Addresses are decoded where they stand, since decoding never makes them longer.
#include "request.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static int digit_of(char byte) {
  if (byte >= '0' && byte <= '9')
    return byte - '0';
  if (byte >= 'a' && byte <= 'f')
    return byte - 'a' + 10;
  return byte >= 'A' && byte <= 'F' ? byte - 'A' + 10 : -1;
}

/// What a page and a terminal can show.
static bool is_text(const char* text) {
  for (const char* byte = text; *byte; byte++)
    if (((unsigned char)*byte < ' ' && !strchr("\t\r\n", *byte)) || *byte == 0x7F)
      return false;
  json_t* made = json_string(text); // refuses what is no UTF-8
  json_decref(made);
  return made != NULL;
}

static bool decode(char* text, bool plus) {
  char* to = text;
  for (const char* from = text; *from; from++) {
    if (*from == '%') {
      int high = digit_of(from[1]);
      int low = high < 0 ? -1 : digit_of(from[2]);
      if (low < 0 || !(high | low))
        return false;
      *to++ = (char)(high * 16 + low);
      from += 2;
    } else {
      *to++ = plus && *from == '+' ? ' ' : *from;
    }
  }
  *to = '\0';
  return is_text(text);
}

static why_address_fault add_pair(why_address* address, char* pair) {
  char* value = strchr(pair, '=');
  if (!value || !value[1])
    return WHY_ADDRESS_SOUND;
  *value++ = '\0';
  if (address->count == WHY_PAIRS_LIMIT)
    return WHY_ADDRESS_LONG;
  if (!decode(pair, true) || !decode(value, true))
    return WHY_ADDRESS_WRONG;
  address->pairs[address->count++] = (why_pair){.name = pair, .value = value};
  return WHY_ADDRESS_SOUND;
}

/// Pair after pair of `rest`; NULL holds none.
static why_address_fault add_pairs(why_address* address, char* rest) {
  why_address_fault fault = WHY_ADDRESS_SOUND;
  while (rest && fault == WHY_ADDRESS_SOUND) {
    char* pair = rest;
    rest = strchr(rest, '&');
    if (rest)
      *rest++ = '\0';
    fault = add_pair(address, pair);
  }
  return fault;
}

why_address_fault why_address_read(why_address* address, const char* target) {
  address->count = 0;
  address->form = NULL;
  address->path = address->text;
  size_t length = strnlen(target, WHY_TARGET_LIMIT + 1);
  if (length > WHY_TARGET_LIMIT)
    return WHY_ADDRESS_LONG;
  memcpy(address->text, target, length + 1);
  char* rest = strchr(address->text, '?');
  if (rest)
    *rest++ = '\0';
  why_address_fault fault = add_pairs(address, rest);
  if (!decode(address->text, false) || *address->text != '/')
    return WHY_ADDRESS_WRONG;
  return fault;
}

why_address_fault why_address_read_form(why_address* address, const why_request* request) {
  if (!request->length)
    return WHY_ADDRESS_SOUND;
  if (request->length > WHY_LINE_LIMIT)
    return WHY_ADDRESS_LONG;
  if (memchr(request->body, 0, request->length))
    return WHY_ADDRESS_WRONG;
  address->form = strndup(request->body, request->length);
  return address->form ? add_pairs(address, address->form) : WHY_ADDRESS_LONG;
}

void why_address_clear(why_address* address) {
  free(address->form);
  address->form = NULL;
}

const char* why_address_value(const why_address* address, const char* name) {
  for (size_t i = 0; i < address->count; i++)
    if (strcmp(address->pairs[i].name, name) == 0)
      return address->pairs[i].value;
  return NULL;
}

bool why_address_says(const why_address* address, const char* name, const char* value) {
  for (size_t i = 0; i < address->count; i++)
    if (strcmp(address->pairs[i].name, name) == 0 && strcmp(address->pairs[i].value, value) == 0)
      return true;
  return false;
}

void why_address_carry(const why_address* address, const char* const* names, why_bytes* out) {
  for (size_t i = 0; i < address->count; i++) {
    for (const char* const* name = names; *name; name++) {
      if (strcmp(address->pairs[i].name, *name) != 0)
        continue;
      why_bytes_print(out, "&amp;%s=", *name);
      why_bytes_address(out, address->pairs[i].value);
    }
  }
}
