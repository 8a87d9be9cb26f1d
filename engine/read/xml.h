// SPDX-License-Identifier: GPL-3.0-or-later
/// Opening XML files and walking their elements. Files are small, local and plain: no document
/// type, no entities of their own, no network. Every file is validated against the RELAX NG schema
/// of its kind before a reader sees it, so readers need not check what a schema can say.
#ifndef WHY_READ_XML_H
#define WHY_READ_XML_H

#include "base/base.h"
#include "number.h"
#include "origin.h"

#include <libxml/tree.h>
#include <libxml/xmlerror.h>
#include <stdbool.h>

enum {
  WHY_FILE_LIMIT = 4 * 1024 * 1024, ///< Largest XML file, bytes.
  WHY_WHOLE_LIMIT = 1000000000,     ///< Largest whole number.
  WHY_DEPTH_LIMIT = 64              ///< Deepest nesting of elements.
};

/// What a reader needs: where to put rows, names and problems, and the file at hand.
typedef struct {
  why_arena* arena;     ///< Owns every row and string of the tables.
  why_symbols* symbols; ///< Ids of all kinds in one table.
  why_problems* problems;
  const char* file; ///< Path as shown to people, relative to the knowledge base; in `arena`.
  const char* text; ///< The bytes of the file, terminated; valid while it is being read.
  xmlDoc* doc;      ///< The document, while there is one.
  const why_cell_origins*
      origins; ///< Of a text that was made from a table: where its bytes come from;
               ///< all places are then in the table. NULL: the text is the file.
} why_reader;

/// Keep libxml2 from printing messages of its own on this thread while files are read (all that
/// matters is reported), or let it speak again.
void why_xml_hush(bool quiet);

/// Parse the file whose `length` bytes stand in `reader->text`; returns its document, which is also
/// `reader->doc`, or NULL after reporting why not. Give it back with why_xml_close.
xmlDoc* why_xml_parse(why_reader* reader, size_t length);
void why_xml_close(why_reader* reader);

/// The same as a clean-up of the arena, for a reader that lies in it: memory may run out while
/// there is a document.
void why_xml_leave(void* reader);

/// A compiled RELAX NG schema.
typedef struct why_schema why_schema;

/// Compile the schema at `path`, which lives as long as `reader->arena`; NULL after reporting it
/// under the name `shown`. The document that `reader` is about stays as it is.
const why_schema* why_schema_open(const why_reader* reader, const char* path, const char* shown);

/// The same for a schema whose `length` bytes stand in `text`, terminated.
const why_schema* why_schema_read(const why_reader* reader, const char* text, size_t length,
                                  const char* shown);

/// Validate `doc`; reports every mismatch. False when it does not fit.
bool why_schema_accepts(const why_schema* schema, why_reader* reader, xmlDoc* doc);

/// Report what libxml2 found wrong, without the line feed at the end of its message. Takes nothing
/// from the arena: libxml2 is at work, and exhausted memory must not leave through it.
void why_xml_report(why_reader* reader, const char* check, why_place place, const xmlError* error);

/// The exact place of the '<' of an element, or of the name of one of its attributes.
why_place why_xml_place(const why_reader* reader, const xmlNode* element);
why_place why_xml_place_of(const why_reader* reader, const xmlNode* element, const char* attribute);

/// An `element` that is NULL has no children, attributes, text or place: a knowledge base whose
/// schema somebody loosened must not bring the reader down.
///
/// First child element called `name` (NULL: of any name), and the next sibling like it; NULL when
/// there is none. `for (n = why_xml_first(e, "head"); n; n = why_xml_next(n, "head"))`.
const xmlNode* why_xml_first(const xmlNode* element, const char* name);
const xmlNode* why_xml_next(const xmlNode* element, const char* name);
size_t why_xml_count(const xmlNode* element, const char* name);
bool why_xml_is(const xmlNode* element, const char* name);
const char* why_xml_name(const xmlNode* element);

bool why_xml_has(const xmlNode* element, const char* attribute);

/// Whether the attribute is there and is `value`.
bool why_xml_attribute_is(const xmlNode* element, const char* attribute, const char* value);

/// An attribute's value: as a string in the arena ("" when absent), as a name (0 when absent), as
/// a number (`otherwise` when absent; a value that is no finite number is reported and gives
/// `otherwise`), as a whole number up to WHY_WHOLE_LIMIT (0 when absent, or after a report), as
/// yes/no, as names or numbers separated by white space (empty when absent).
const char* why_xml_string(why_reader* reader, const xmlNode* element, const char* attribute);
why_symbol why_xml_symbol(why_reader* reader, const xmlNode* element, const char* attribute);
double why_xml_number(why_reader* reader, const xmlNode* element, const char* attribute,
                      double otherwise);
unsigned why_xml_whole(why_reader* reader, const xmlNode* element, const char* attribute);
bool why_xml_flag(const xmlNode* element, const char* attribute);
why_symbol_list why_xml_symbols(why_reader* reader, const xmlNode* element, const char* attribute);

/// Up to `room` numbers of a white-space separated attribute into `values`; returns how many.
size_t why_xml_numbers(why_reader* reader, const xmlNode* element, const char* attribute,
                       double* values, size_t room);

/// The text directly inside an element, white space folded to single blanks and trimmed. "" if
/// none.
const char* why_xml_text(why_reader* reader, const xmlNode* element);

/// The folded text of the first child element `name`; "" if there is no such child.
const char* why_xml_child_text(why_reader* reader, const xmlNode* element, const char* name);

/// Walk the attributes of an element whose names are data (such as coordinates): calls `each` with
/// name and value in file order.
void why_xml_each_attribute(const xmlNode* element,
                            void (*each)(void* user, const char* name, const char* value),
                            void* user);

#endif
