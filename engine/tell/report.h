// SPDX-License-Identifier: GPL-3.0-or-later
/// From an answer of the rules to the tree that formats walk. The names in the tree are those of
/// include/whylift/answer.schema.json.
#ifndef WHY_TELL_REPORT_H
#define WHY_TELL_REPORT_H

#include "node.h"

#include "pick/pick.h"

/// A pick, swap or explanation.
why_node* why_report_picked(const why_picked* answer);

/// What a knowledge base holds (the answer to `check`).
why_node* why_report_summary(const why_summary* summary, why_arena* arena);

/// What differs between two answers, or for all groups between two knowledge bases; its names are
/// those of include/whylift/difference.schema.json.
why_node* why_report_comparison(const why_comparison* comparison, why_arena* arena);

/// Two exercises beside each other; its names are those of include/whylift/compare.schema.json.
why_node* why_report_versus(const why_versus* versus, why_arena* arena);

/// Joint moments of an exercise.
why_node* why_report_moments(const why_moments* moments, why_arena* arena);

/// What trials found, pooled; its names are those of include/whylift/pool.schema.json.
why_node* why_report_trials(const why_trials* trials, why_arena* arena);

/// How well growth is predicted.
why_node* why_report_validation(const why_validated* validated, why_arena* arena);

/// What a programme amounts to; its names are those of include/whylift/audit.schema.json.
why_node* why_report_audit(const why_audit* audit, why_arena* arena);
/// A study drafted from a text; its names are those of include/whylift/draft.schema.json.
why_node* why_report_drafting(const why_drafting* drafting, why_arena* arena);

/// A study as a table; its names are those of include/whylift/findings.schema.json.
why_node* why_report_tabling(const why_tabling* tabling, why_arena* arena);

/// A planned week, or which limits clash; its names are those of include/whylift/plan.schema.json.
why_node* why_report_plan(const why_plan* plan, why_arena* arena);

/// The names of one kind of thing.
why_node* why_report_listing(const why_listing* listing, why_arena* arena);

#endif
