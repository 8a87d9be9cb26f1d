// SPDX-License-Identifier: GPL-3.0-or-later
/// A request as it came, and what its address says. No socket is needed to make one.
#ifndef WHY_SERVE_REQUEST_H
#define WHY_SERVE_REQUEST_H

#include "bytes.h"
#include "serve.h"

enum {
  WHY_TARGET_LIMIT = 8 * 1024, ///< Bytes of path and query.
  WHY_PAIRS_LIMIT = 300        ///< Names with values in one address.
};

typedef struct {
  const char* method;
  const char* target; ///< Path and query as sent, such as "/pick?goal=chest".
  const char* host;   ///< NULL when none was sent.
  const char* body;   ///< NULL when there is none.
  size_t length;      ///< Of the body.
} why_request;

/// A target, taken apart and decoded, with the form in the body if there is one.
typedef struct {
  char text[WHY_TARGET_LIMIT + 1]; ///< What all below points into,
  char* form;                      ///< and this; NULL without a form.
  const char* path;
  why_pair pairs[WHY_PAIRS_LIMIT];
  size_t count;
} why_address;

/// How a target can be wrong.
typedef enum { WHY_ADDRESS_SOUND, WHY_ADDRESS_LONG, WHY_ADDRESS_WRONG } why_address_fault;

/// Take `target` apart. Names and values are decoded (application/x-www-form-urlencoded, URL
/// Standard): "+" is a blank, %XX a byte; together they must be UTF-8 without control characters
/// other than tab and line breaks. Empty values, which forms send for empty fields, are dropped.
why_address_fault why_address_read(why_address* address, const char* target);

/// Take the form in the body of `request` apart too, by the same rules; without memory,
/// WHY_ADDRESS_LONG. Give it back with why_address_clear.
why_address_fault why_address_read_form(why_address* address, const why_request* request);
void why_address_clear(why_address* address);

/// The first value under `name`; NULL when there is none.
const char* why_address_value(const why_address* address, const char* name);

/// Whether `name` was said with this value.
bool why_address_says(const why_address* address, const char* name, const char* value);

/// Write all pairs of these names (the list ends with NULL) for an address inside an attribute of
/// HTML, each behind "&amp;".
void why_address_carry(const why_address* address, const char* const* names, why_bytes* out);

#endif
