// SPDX-License-Identifier: GPL-3.0-or-later
// From the joints of rules/anatomy/coordinates.xml to coordinates, actions, and the geometry of the
// shoulder.
#include "readers.h"

#include <math.h>

/// The action of a <raises> or <lowers> under `element`; its opposite is under `other`.
static void read_action(why_reader* reader, const xmlNode* element, const char* sense,
                        const char* other, why_symbol_list along, why_anatomy* anatomy) {
  const xmlNode* found = why_xml_first(element, sense);
  const xmlNode* against = why_xml_first(element, other);
  if (!found)
    return;
  *WHY_LIST_ADD(reader->arena, anatomy->actions) =
      (why_action){.id = why_xml_symbol(reader, found, "id"),
                   .name = why_xml_string(reader, found, "name"),
                   .along = along,
                   .sign = sense[0] == 'r' ? 1 : -1,
                   .opposite = against ? why_xml_symbol(reader, against, "id") : 0,
                   .place = why_xml_place(reader, found)};
}

static void read_actions(why_reader* reader, const xmlNode* element, why_symbol_list along,
                         why_anatomy* anatomy) {
  read_action(reader, element, "raises", "lowers", along, anatomy);
  read_action(reader, element, "lowers", "raises", along, anatomy);
}

static void read_coordinates(why_reader* reader, const xmlNode* joint, why_anatomy* anatomy) {
  for (const xmlNode* n = why_xml_first(joint, "coordinate"); n;
       n = why_xml_next(n, "coordinate")) {
    *WHY_LIST_ADD(reader->arena, anatomy->coordinates) =
        (why_coordinate){.id = why_xml_symbol(reader, n, "id"),
                         .name = why_xml_string(reader, n, "name"),
                         .joint = why_xml_symbol(reader, joint, "id"),
                         .least_deg = why_xml_number(reader, n, "least-deg", -INFINITY),
                         .most_deg = why_xml_number(reader, n, "most-deg", INFINITY),
                         .posture = !why_xml_attribute_is(n, "posture", "no"),
                         .place = why_xml_place(reader, n)};
    read_actions(reader, n, why_xml_symbols(reader, n, "id"), anatomy);
  }
}

static void read_directions(why_reader* reader, const xmlNode* joint, why_anatomy* anatomy) {
  for (const xmlNode* n = why_xml_first(joint, "direction"); n; n = why_xml_next(n, "direction")) {
    why_symbol_list along = why_xml_symbols(reader, n, "along");
    read_actions(reader, n, along, anatomy);
    // The direction about the vertical names the rotation that turns along with the plane.
    if (along.count == 2 && along.at[0] == anatomy->shoulder.plane)
      anatomy->shoulder.rotation = along.at[1];
  }
}

static void read_pair(why_reader* reader, const xmlNode* joint, why_shoulder* shoulder) {
  const xmlNode* pair = why_xml_first(joint, "pair");
  if (!pair)
    return;
  shoulder->plane = why_xml_symbol(reader, pair, "plane");
  shoulder->elevation = why_xml_symbol(reader, pair, "elevation");
  shoulder->cosine_part = why_xml_symbol(reader, pair, "cosine");
  shoulder->sine_part = why_xml_symbol(reader, pair, "sine");
}

static void read_region(why_reader* reader, const xmlNode* joint, why_shoulder* shoulder) {
  const xmlNode* region = why_xml_first(joint, "region");
  if (!region)
    return;
  shoulder->place = why_xml_place(reader, region);
  for (const xmlNode* n = why_xml_first(region, "corner"); n; n = why_xml_next(n, "corner"))
    *WHY_LIST_ADD(reader->arena, shoulder->corners) = (why_corner){
        .plane_deg = why_xml_number(reader, n, "plane-deg", 0),
        .most_elevation_deg = why_xml_number(reader, n, "most-elevation-deg", INFINITY)};
  for (const xmlNode* n = why_xml_first(region, "rotation"); n; n = why_xml_next(n, "rotation"))
    *WHY_LIST_ADD(reader->arena, shoulder->rotations) = (why_rotation_span){
        .from_plane_deg = why_xml_number(reader, n, "from-plane-deg", -INFINITY),
        .to_plane_deg = why_xml_number(reader, n, "to-plane-deg", INFINITY),
        .least_deg = why_xml_number(reader, n, "least-deg", -INFINITY),
        .most_deg = why_xml_number(reader, n, "most-deg", INFINITY)};
}

static void read_overhead(why_reader* reader, const xmlNode* joint, why_shoulder* shoulder) {
  const xmlNode* n = why_xml_first(joint, "overhead");
  if (!n)
    return;
  shoulder->overhead_deg = why_xml_number(reader, n, "above-elevation-deg", INFINITY);
  shoulder->overhead_least_plane_deg = why_xml_number(reader, n, "least-plane-deg", 0);
  shoulder->overhead_most_plane_deg = why_xml_number(reader, n, "most-plane-deg", 0);
}

static void read_rhythm(why_reader* reader, const xmlNode* joint, why_shoulder* shoulder) {
  const xmlNode* n = why_xml_first(joint, "rhythm");
  if (!n)
    return;
  shoulder->rhythm_coordinate = why_xml_symbol(reader, n, "coordinate");
  shoulder->rhythm_per_degree = why_xml_number(reader, n, "elevation-per-degree", INFINITY);
  shoulder->rhythm_full_from_plane_deg = why_xml_number(reader, n, "full-from-plane-deg", 0);
  shoulder->rhythm_none_below_plane_deg = why_xml_number(reader, n, "none-below-plane-deg", 0);
}

void why_joints_read(why_reader* reader, const xmlNode* root, why_anatomy* anatomy) {
  for (const xmlNode* n = why_xml_first(root, "joint"); n; n = why_xml_next(n, "joint")) {
    read_coordinates(reader, n, anatomy);
    read_pair(reader, n, &anatomy->shoulder);
    read_directions(reader, n, anatomy);
    read_region(reader, n, &anatomy->shoulder);
    read_overhead(reader, n, &anatomy->shoulder);
    read_rhythm(reader, n, &anatomy->shoulder);
  }
}
