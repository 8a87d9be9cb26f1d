// SPDX-License-Identifier: GPL-3.0-or-later
/// Exact positions of elements. libxml2 keeps the line where a start tag ends, and no column; the
/// text of the file is at hand, so the start tags are found there again, in document order.
#ifndef WHY_READ_POSITION_H
#define WHY_READ_POSITION_H

#include "xml.h"

/// Give every element of `doc` its place in `reader->text`, kept in the node's private pointer.
void why_position_mark(why_reader* reader, xmlDoc* doc);

/// The place of `<!DOCTYPE`, line 0 when the file has none.
why_place why_position_of_doctype(const why_reader* reader);

#endif
