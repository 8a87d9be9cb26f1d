// SPDX-License-Identifier: GPL-3.0-or-later
/// Whylift's public interface, in reading order: open a knowledge base, ask it, tell the answer.
#ifndef WHYLIFT_H
#define WHYLIFT_H

// clang-format off
#include "export.h"
#include "status.h"
#include "problem.h"
#include "knowledge.h"
#include "query.h"
#include "answer.h"
#include "tell.h"
// clang-format on

#endif
