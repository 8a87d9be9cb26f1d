// SPDX-License-Identifier: GPL-3.0-or-later
/// What goes back: status, kind of bytes, bytes.
#ifndef WHY_SERVE_REPLY_H
#define WHY_SERVE_REPLY_H

#include "bytes.h"

/// Statuses of RFC 9110, and of RFC 6585 for headers.
enum {
  WHY_REPLY_OK = 200,
  WHY_REPLY_WRONG = 400,   ///< The question is wrong; the body says how.
  WHY_REPLY_MISSING = 404, ///< No such path.
  WHY_REPLY_METHOD = 405,  ///< Not by this method.
  WHY_REPLY_BODY = 413,    ///< The body is too long.
  WHY_REPLY_TARGET = 414,  ///< The address is too long.
  WHY_REPLY_ASTRAY = 421,  ///< Meant for another host.
  WHY_REPLY_BUSY = 503,    ///< Not now.
  WHY_REPLY_MACHINE = 500  ///< The machine failed.
};

typedef struct {
  unsigned status;
  const char* type;  ///< Content-Type.
  const char* allow; ///< Methods that would do; NULL unless the method is wrong.
  const char* file;  ///< A name to save it under; NULL: it is shown.
  unsigned wait;     ///< Seconds after which to ask again; 0: nothing is said.
  why_bytes body;
} why_reply;

extern const char WHY_TYPE_HTML[];
extern const char WHY_TYPE_JSON[];

/// A status with one sentence, as text.
void why_reply_plain(why_reply* reply, unsigned status, const char* sentence);

#endif
