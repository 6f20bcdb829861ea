/* ware_cells.h: spreadsheet cells that hold more than one value, as the nodes JSON would have. */
#ifndef KILNSTOW_STUDIO_READING_WARE_CELLS_H
#define KILNSTOW_STUDIO_READING_WARE_CELLS_H

#include "base/data/fields.h"

/* The text with the header's unit (NULL = none) behind it, if it is a number without one. */
const char *ks_cell_with_unit(const char *text, const char *unit, ks_arena *arena);

/* "Ø 9 cm" without the sign of a diameter. */
const char *ks_cell_of_diameter(const char *text);

/* Whether a number in it has one to three digits before a point and three behind: "1.250", which in
 * a table with decimal commas could be 1250. */
bool ks_cell_has_thousands_point(const char *text);

/* A stage as people say it, as the file's word for it: "greenware" is "dry". Others as they are. */
const char *ks_cell_stage(const char *text, ks_arena *arena);

/* "yes" and "no": true or false. "35x20@30-80": reach x width @ from-to, each with a unit if it
 * likes. */
void ks_cell_as_handle(ks_json *cell, const char *unit, const ks_field_reader *reader);

/* "0:40 60:52 95:45": height:radius. */
void ks_cell_as_profile(ks_json *cell, const char *unit, const ks_field_reader *reader);

/* "a, b": an array of texts, cut at any of the separators. */
void ks_cell_as_list(ks_json *cell, const char *separators, ks_arena *arena);

/* "12 min", or "throwing 6 min + trimming 3 min": the row's `labour`, a lump or a list. */
void ks_cell_as_labour(ks_json *cell, const char *unit, const ks_field_reader *reader);

/* A step of the row's `labour`, from a column of its own. */
void ks_cell_labour_step(ks_json *row, const char *step, const char *time, int line, int column,
                         ks_arena *arena);

#endif
