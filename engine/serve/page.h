// SPDX-License-Identifier: GPL-3.0-or-later
/// Pages around answers: the frame, the forms, what stands between them.
#ifndef WHY_SERVE_PAGE_H
#define WHY_SERVE_PAGE_H

#include "asking.h"
#include "reply.h"
#include "request.h"
#include "site.h"

/// The frame: everything up to the main part, and everything after it. `tab` is the path of the
/// page, `kind` its classes for the style sheet.
void why_page_open(why_bytes* out, const char* title, const char* tab, const char* kind);
void why_page_close(why_bytes* out);

/// Fields of a form, filled with what the address says; `needed`: the form is not sent without it.
void why_field_goal(const why_site* site, const why_address* address, const char* name,
                    const char* label, why_bytes* out);
void why_field_exercise(const why_site* site, const why_address* address, const char* name,
                        const char* label, bool needed, why_bytes* out);
void why_field_part(const why_site* site, const why_address* address, why_bytes* out);
void why_field_text(const why_address* address, const char* name, const char* label,
                    const char* example, why_bytes* out);
void why_field_number(const why_address* address, const char* name, const char* label, int least,
                      int most, int usual, why_bytes* out);

/// One of `values`, shown as `words` (both lists end with NULL); `usual` when nothing was said.
void why_field_select(const why_address* address, const char* name, const char* label,
                      const char* const* values, const char* const* words, const char* usual,
                      why_bytes* out);
void why_field_place(const why_site* site, const why_address* address, why_bytes* out);

/// Place, equipment, restrictions, level: who asks, and where; `many`: and how many picks are
/// shown.
void why_fields_person(const why_site* site, const why_address* address, bool many, why_bytes* out);

/// What is wrong with the question, with hints.
void why_page_problems(const why_asking* asking, why_bytes* out);

/// The names that say who asks and where, to be carried from page to page; ends with NULL.
extern const char* const WHY_PERSON[];

/// Whether a task is about a text that people paste, which is sent in the body.
bool why_coach_is_pasted(const char* task);

/// The pages: of a task (with its answer when something is asked), of a lesson, of the page to
/// carry, and the first.
void why_coach_page(const why_site* site, const why_address* address, const char* task,
                    why_asking* asking, why_bytes* out);
void why_class_page(const why_site* site, const why_address* address, why_reply* reply);
void why_without_page(const why_site* site, const why_address* address, why_reply* reply);
void why_carry_page(const why_site* site, const why_address* address, why_reply* reply);
void why_start_page(const why_site* site, const why_address* address, why_bytes* out);

#endif
