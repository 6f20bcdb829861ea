/* piece_file.h: a piece as it is entered, and how it becomes the blocks that the kiln sees. */
#ifndef KILNSTOW_STUDIO_FILES_PIECE_FILE_H
#define KILNSTOW_STUDIO_FILES_PIECE_FILE_H

#include "studio/parts.h"
#include "studio/reading/reading.h"
#include "studio/reading/writing.h"

/* What was told of a piece; sizes that were not are NAN. */
typedef struct {
    ks_piece piece;
    const ks_json *node;
    double diameter_mm, width_mm, depth_mm, height_mm, corner_mm;
    bool square; /* what is told by widths or a photograph is rectangular seen from above */
    double told_mass_kg, wet_ball_kg;
    double floor_mm;    /* of its inside, above what it stands on */
    bool closed;        /* no way into it */
    double breadth_mm;  /* found while it is built */
    double lateral_mm2; /* outside of its wall */
    double base_mm2;    /* that its wall encloses at the bottom */
} ks_piece_entry;

/* Reads a piece's object, from JSON or made of a spreadsheet's row. */
void ks_piece_read(ks_reading *reading, const ks_json *node, void *piece);

/* The blocks of its own body, upright, from whichever sizes were told; false after noting what is
 * wrong with them. */
bool ks_shape_build(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list);

/* Whether the room inside it matters: ware that may stand on other ware, and is not closed. */
bool ks_inside_is_wanted(const ks_piece_entry *entry);

/* Wall and inside floor of hollow ware, usual ones where they were not told. */
void ks_inside_take(ks_reading *reading, ks_piece_entry *entry, double breadth_mm, double *wall_mm,
                    double *floor_mm);

/* The body, from its foot's top up, with the room inside it, of round ware known by diameter and
 * height; false, and nothing added, where nobody may count on any. */
bool ks_inside_add(ks_reading *reading, ks_piece_entry *entry, const ks_outline *foot,
                   const ks_outline *body, double foot_mm, ks_part_list *list);

double ks_usual_wall_mm(double breadth_mm);

/* The parts, posed and on their setter; false after noting what is wrong with the sizes. */
bool ks_piece_build(ks_reading *reading, ks_piece_entry *entry);

/* Fills what was not told and follows from the sizes: mass, wall, surface, area, turning. */
void ks_piece_guess(ks_reading *reading, ks_piece_entry *entry);

void ks_piece_write(ks_json_out *out, const ks_order *order, const ks_piece *piece);

/* "diameter 3 1/2 in, height 4 in": the sizes as they were written. */
const char *ks_piece_as_entered(const ks_json *node, const ks_units *units, ks_arena *arena);

/* Joints of a form of parts: read, checked against its height once that is known, its `joined_to`
 * among the order's pieces. */
void ks_joints_read(ks_reading *reading, const ks_json *node, ks_piece *piece);
void ks_joints_check(ks_reading *reading, const ks_json *node, const ks_piece *piece);
void ks_joints_refer(ks_reading *reading, const ks_json *node, const ks_order *order, int piece);
void ks_joints_write(ks_json_out *out, const ks_piece *piece);

/* How it may be turned, where it is kept, what it is to stand on. */
void ks_wishes_read(ks_reading *reading, const ks_json *node, ks_piece *piece);
void ks_beside_refer(ks_reading *reading, const ks_json *node, ks_order *order, int piece);
void ks_wishes_write(ks_json_out *out, const ks_piece *piece);

/* Reads "setter" into the piece; what was not told is NAN until filled. */
void ks_setter_read(ks_reading *reading, const ks_json *node, ks_piece *piece);
void ks_setter_write(ks_json_out *out, const ks_order *order, const ks_setter *setter);

/* Fills what was not told: first its stage, then its sizes. `needed_margin_mm`: by how much its
 * edge may come nearer the feet. */
void ks_setter_staged(ks_setter *setter, const ks_piece *piece);
void ks_setter_fill(ks_setter *setter, double needed_margin_mm);

/* Of the setter's blocks, beds as thick as they are meant. */
double ks_setter_mass_kg(const ks_piece *piece, double density_kg_l);

/* Volume, price or one, by the order's objective, for every piece; prices not told take the
 * median per litre of those that were. */
void ks_worths_set(ks_order *order, ks_arena *arena);

#endif
