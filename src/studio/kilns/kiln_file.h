/* kiln_file.h: the parts of a kiln's file, each read and written by a file of its own. */
#ifndef KILNSTOW_STUDIO_KILNS_KILN_FILE_H
#define KILNSTOW_STUDIO_KILNS_KILN_FILE_H

#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* A whole kiln from its object, which may stand in an order or be a file of its own. */
void ks_kiln_read_node(ks_reading *reading, const ks_json *node, ks_kiln *kiln);
void ks_kiln_write(ks_json_out *out, const char *key, const ks_kiln *kiln);

void ks_chamber_read(ks_reading *reading, const ks_json *node, ks_kiln *kiln);
void ks_chamber_write(ks_json_out *out, const char *key, double height_mm, int n_parts,
                      const ks_chamber_part *parts);

/* An arch over the chamber: straight walls up to `spring_mm`, then a barrel from left to right up
 * to `height_mm`, as parts that lie within it. False if the outline is not a convex polygon. */
bool ks_chamber_arched(const ks_outline *outline, double spring_mm, double height_mm,
                       ks_arena *arena, ks_chamber_part **parts, int *n_parts);

void ks_stock_read(ks_reading *reading, const ks_json *node, ks_kiln *kiln); /* shelves and posts */
void ks_stock_write(ks_json_out *out, const ks_kiln *kiln);

void ks_bays_read(ks_reading *reading, const ks_json *node, ks_kiln *kiln);
void ks_bays_write(ks_json_out *out, const ks_kiln *kiln);

/* What heats it, and its lining. */
void ks_heat_read(ks_reading *reading, const ks_json *node, ks_kiln *kiln);
void ks_heat_write(ks_json_out *out, const ks_kiln *kiln);

/* Also of an order's rules, and of a plan's load. Fields left out stay as they are. */
void ks_clearance_read(ks_reading *reading, const ks_json *node, ks_clearance *clearance);
void ks_clearance_write(ks_json_out *out, const char *key, const ks_clearance *clearance);

void ks_keep_out_read(ks_reading *reading, const ks_json *node, void *keep_out);
void ks_keep_outs_write(ks_json_out *out, const char *key, int n, const ks_keep_out *keep_outs);

void ks_chamber_part_read(ks_reading *reading, const ks_json *node, void *part);

#endif
