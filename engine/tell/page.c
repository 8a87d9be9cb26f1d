// SPDX-License-Identifier: GPL-3.0-or-later
// The format "html": one page that needs nothing from anywhere, to read on a phone, show in a class
// or print. Its style sheet is page.css, built in. The format "html-part" is what stands in it, for
// a page of somebody else; entries carry their id there as data-id.
#include "format.h"
#include "markup.h"
#include "svg.h"

#include <string.h>

/// The bytes of page.css, written by the build.
extern const char WHY_PAGE_STYLE[];

/// What surrounds neighbours of one kind.
typedef enum { AROUND_NOTHING, AROUND_ENTRIES, AROUND_POINTS, AROUND_PICTURES } around;

typedef struct {
  why_buffer* out;
  unsigned pictures;
  int steps;      ///< How deep we are in a chain.
  size_t entries; ///< Under the current heading.
} page;

enum { OPEN_STEPS = 2, OPEN_ENTRIES = 3 }; ///< What is unfolded to begin with.

/// What is no wider fits on a phone; small pictures stand three in a row where there is room.
enum { NARROW_COLUMNS = 4, NARROW_PICTURE = 400, SMALL_PICTURE = 300 };

static const char* const OPEN[] = {"", "<ol>\n", "<ul>\n", "<div class=\"pictures\">\n"};
static const char* const CLOSE[] = {"", "</ol>\n", "</ul>\n", "</div>\n"};

static void write_children(page* at, const why_node* parent);

static around around_of(const why_node* node) {
  switch (node->role) {
  case WHY_ROLE_ENTRY:
    return AROUND_ENTRIES;
  case WHY_ROLE_POINT:
  case WHY_ROLE_CAUTION:
    return AROUND_POINTS;
  case WHY_ROLE_PICTURE:
    return AROUND_PICTURES;
  default:
    return AROUND_NOTHING;
  }
}

static void write_element(page* at, const char* name, const char* text) {
  why_markup_element(at->out, name, text);
  why_buffer_add(at->out, "\n");
}

static void write_mark(page* at, const why_node* node) {
  if (!node->mark)
    return;
  why_buffer_add(at->out, "<p class=\"mark\">");
  why_markup_text(at->out, node->mark);
  why_buffer_add(at->out, "</p>\n");
}

static void write_heading(page* at, const why_node* node) {
  at->entries = 0;
  write_element(at, node->role == WHY_ROLE_TITLE ? "h1" : "h2", node->words);
  write_mark(at, node);
}

static void write_entry(page* at, const why_node* node) {
  at->entries++;
  why_buffer_add(at->out, "<li");
  if (node->anchor)
    why_markup_attribute(at->out, "data-id", node->anchor);
  why_buffer_add(at->out, ">\n");
  write_element(at, "h3", node->words);
  write_mark(at, node);
  write_children(at, node);
  why_buffer_add(at->out, "</li>\n");
}

/// Only two kinds of address are ever written: of a DOI, and of an anchor on this page.
static bool is_safe(const char* link) {
  return *link == '#' || strncmp(link, "https://doi.org/", 16) == 0;
}

/// An address: what RFC 3986 neither reserves nor leaves free is written in percent.
static void write_link(page* at, const char* link, const char* text) {
  static const char PLAIN[] = "-._~:/?#[]@!$()*+,;=%";
  bool safe = is_safe(link);
  if (safe)
    why_buffer_add(at->out, "<a href=\"");
  for (const char* byte = link; safe && *byte; byte++) {
    bool letter = (*byte >= 'a' && *byte <= 'z') || (*byte >= 'A' && *byte <= 'Z') ||
                  (*byte >= '0' && *byte <= '9');
    if (letter || strchr(PLAIN, *byte))
      why_buffer_add_bytes(at->out, byte, 1);
    else
      why_buffer_print(at->out, "%%%02X", (unsigned)(unsigned char)*byte);
  }
  if (safe)
    why_buffer_add(at->out, "\">");
  why_markup_text(at->out, text);
  if (safe)
    why_buffer_add(at->out, "</a>");
}

static void write_mentions(page* at, const why_node* node) {
  for (const why_node* each = node->first; each; each = each->next) {
    if (each->role == WHY_ROLE_MENTION) {
      why_buffer_add(at->out, " <small>");
      write_link(at, each->link, each->words);
      why_buffer_add(at->out, "</small>");
    }
    write_mentions(at, each);
  }
}

static void write_point(page* at, const why_node* node) {
  why_buffer_add(at->out, node->role == WHY_ROLE_CAUTION ? "<li class=\"caution\"" : "<li");
  if (node->anchor)
    why_markup_attribute(at->out, "id", node->anchor);
  why_buffer_add(at->out, ">");
  why_markup_text(at->out, node->words);
  if (node->mark) {
    why_buffer_add(at->out, " <small>");
    if (node->link)
      write_link(at, node->link, node->mark);
    else
      why_markup_text(at->out, node->mark);
    why_buffer_add(at->out, "</small>");
  }
  write_mentions(at, node);
  why_buffer_add(at->out, "</li>\n");
}

static bool has_steps(const why_node* node) {
  for (const why_node* each = node->first; each; each = each->next)
    if (each->role == WHY_ROLE_STEP || has_steps(each))
      return true;
  return false;
}

static void write_step_words(page* at, const why_node* node) {
  why_markup_text(at->out, node->words);
  if (!node->mark)
    return;
  why_buffer_add(at->out, " <small>[");
  why_markup_text(at->out, node->mark);
  why_buffer_add(at->out, "]</small>");
}

/// A step folds away what it rests on; one that rests on nothing further is a line.
static void write_step(page* at, const why_node* node) {
  if (!has_steps(node)) {
    why_buffer_add(at->out, "<p class=\"step\">");
    write_step_words(at, node);
    why_buffer_add(at->out, "</p>\n");
    return;
  }
  why_buffer_add(at->out, at->steps < OPEN_STEPS ? "<details open=\"open\"><summary>"
                                                 : "<details><summary>");
  write_step_words(at, node);
  why_buffer_add(at->out, "</summary>\n");
  at->steps++;
  write_children(at, node);
  at->steps--;
  why_buffer_add(at->out, "</details>\n");
}

static void write_group(page* at, const why_node* node) {
  if (!node->first)
    return;
  why_buffer_print(at->out, "<details class=\"group\"%s>",
                   at->entries <= OPEN_ENTRIES ? " open=\"open\"" : "");
  write_element(at, "summary", node->words);
  write_children(at, node);
  why_buffer_add(at->out, "</details>\n");
}

static void write_row(page* at, const why_node* node) {
  const char* cell = node->role == WHY_ROLE_COLUMNS ? "th" : "td";
  why_buffer_add(at->out, "<tr>");
  for (const char* rest = node->words; *rest;) {
    size_t length = strcspn(rest, "\t");
    why_markup_element(at->out, cell, why_arena_copy(at->out->arena, rest, length));
    rest += length + (rest[length] == '\t');
  }
  why_buffer_add(at->out, "</tr>\n");
}

/// The most columns of a row of a table.
static size_t columns_of(const why_node* table) {
  size_t most = 0;
  for (const why_node* row = table->first; row; row = row->next) {
    size_t columns = 1;
    for (const char* byte = row->words ? row->words : ""; *byte; byte++)
      columns += *byte == '\t';
    most = columns > most ? columns : most;
  }
  return most;
}

static void write_rows(page* at, const why_node* node) {
  why_buffer_add(at->out, "<table>\n");
  for (const why_node* each = node->first; each; each = each->next)
    if (each->role == WHY_ROLE_ROW || each->role == WHY_ROLE_COLUMNS)
      write_row(at, each);
  why_buffer_add(at->out, "</table>\n");
}

/// A table of many columns moves sideways on a narrow screen, by keyboard too.
static void write_table(page* at, const why_node* node) {
  if (!node->first)
    return;
  if (columns_of(node) <= NARROW_COLUMNS) {
    write_rows(at, node);
    return;
  }
  why_buffer_add(at->out, "<div class=\"wide\" role=\"group\" tabindex=\"0\"");
  why_markup_attribute(at->out, "aria-label", node->words ? node->words : "Table");
  why_buffer_add(at->out, ">\n");
  write_rows(at, node);
  why_buffer_add(at->out, "</div>\n");
}

static void write_picture(page* at, const why_node* node) {
  const why_picture* picture = why_node_draw(node, at->out->arena);
  if (!(picture->width > 0))
    return;
  const char* open = picture->width > NARROW_PICTURE  ? "<figure class=\"wide\" tabindex=\"0\">"
                     : picture->width > SMALL_PICTURE ? "<figure class=\"broad\">"
                                                      : "<figure>";
  why_buffer_add(at->out, open);
  why_svg_add(picture, ++at->pictures, at->out);
  why_buffer_add(at->out, "</figure>\n");
}

/// Rows that stand in a list which is no table of its own.
static bool holds_rows(const why_node* node) {
  return node->first && node->first->role == WHY_ROLE_ROW;
}

static void write_node(page* at, const why_node* node) {
  switch (node->words || node->role == WHY_ROLE_NONE ? node->role : WHY_ROLE_MENTION) {
  case WHY_ROLE_TITLE:
  case WHY_ROLE_HEADING:
    write_heading(at, node);
    write_children(at, node);
    break;
  case WHY_ROLE_ENTRY:
    write_entry(at, node);
    break;
  case WHY_ROLE_POINT:
  case WHY_ROLE_CAUTION:
    write_point(at, node);
    break;
  case WHY_ROLE_STEP:
    write_step(at, node);
    break;
  case WHY_ROLE_PARAGRAPH:
    write_element(at, "p", node->words);
    break;
  case WHY_ROLE_GROUP:
    write_group(at, node);
    break;
  case WHY_ROLE_TABLE:
    write_table(at, node);
    break;
  case WHY_ROLE_PICTURE:
    write_picture(at, node);
    break;
  case WHY_ROLE_NONE:
    if (holds_rows(node))
      write_table(at, node);
    else
      write_children(at, node);
    break;
  case WHY_ROLE_MENTION:
  case WHY_ROLE_COLUMNS:
  case WHY_ROLE_ROW:
    break;
  }
}

/// What has neither words nor children leaves no gap between its neighbours.
static bool is_silent(const why_node* node) {
  return !node->first && node->role == WHY_ROLE_NONE;
}

static void write_children(page* at, const why_node* parent) {
  around open = AROUND_NOTHING;
  for (const why_node* each = parent->first; each; each = each->next) {
    if (is_silent(each))
      continue;
    around wanted = around_of(each);
    if (wanted != open) {
      why_buffer_add(at->out, CLOSE[open]);
      why_buffer_add(at->out, OPEN[wanted]);
      open = wanted;
    }
    write_node(at, each);
  }
  why_buffer_add(at->out, CLOSE[open]);
}

static const char* title_of(const why_node* root) {
  for (const why_node* each = root->first; each; each = each->next)
    if (each->role == WHY_ROLE_TITLE)
      return each->words;
  return "whylift";
}

bool why_page_part_write(const why_node* root, why_buffer* out) {
  write_children(&(page){.out = out}, root);
  return true;
}

bool why_page_write(const why_node* root, why_buffer* out) {
  why_buffer_add(out, "<!DOCTYPE html>\n"
                      "<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n"
                      "<meta charset=\"utf-8\"/>\n"
                      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
                      "<meta http-equiv=\"Content-Security-Policy\" "
                      "content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n");
  why_markup_element(out, "title", title_of(root));
  why_buffer_add(out, "\n<style>\n");
  why_buffer_add(out, WHY_PAGE_STYLE);
  why_buffer_add(out, "</style>\n</head>\n<body>\n<main>\n");
  why_page_part_write(root, out);
  why_buffer_add(out, "</main>\n</body>\n</html>\n");
  return true;
}
