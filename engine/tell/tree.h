// SPDX-License-Identifier: GPL-3.0-or-later
/// A chain of reasons drawn as a tree, from the conclusion at the left to what it rests on.
#ifndef WHY_TELL_TREE_H
#define WHY_TELL_TREE_H

#include "node.h"

/// Whether steps of a chain stand right under `node`, which is no step itself.
bool why_tree_begins(const why_node* node);

/// Draw the chain under `node`, with `title` above it. Each step shows so many of its parts and so
/// deep that the picture can be read; what is left out is counted where it is missing.
void why_tree_draw(const why_node* node, const char* title, why_picture* picture);

#endif
