/* sizing.h: sizes told by one word: a family of the studio ("mug M"), "15 x 8 cm", or a shape. */
#ifndef KILNSTOW_STUDIO_FILES_SIZING_H
#define KILNSTOW_STUDIO_FILES_SIZING_H

#include "studio/reading/reading.h"

/* What followed from the word. */
typedef struct {
    const char *family;  /* whose sizes were taken, "" none */
    const char *assumed; /* "height, foot": what nobody measured; "" nothing */
} ks_sizing;

/* The piece's object with its "size" and "shape" become sizes as if they had been told; what is
 * told beside them stays. The object itself where it tells neither, and after noting what is wrong.
 */
const ks_json *ks_piece_sized(ks_reading *reading, const ks_json *piece, ks_sizing *out);

/* The studio's own families, `[{"id": "mug M", "diameter": …}]`: kept in the reading once checked.
 */
void ks_families_read(ks_reading *reading, const ks_json *node);

/* A size out of a column whose heading tells the unit (NULL = none): "15 x 8" -> "15 x 8 cm". */
const char *ks_size_with_unit(const char *text, const char *unit, ks_arena *arena);

/* The lengths of "58 x 69 cm", at most three, in mm; how many, 0 if it is nothing of that. */
int ks_size_numbers(const char *text, ks_arena *arena, double mm[3]);

/* Families that come along, as text of an array like the order's; common practice, no source. */
extern const char ks_usual_families[];

/* The same as numbers. */
typedef struct {
    const char *name;
    double diameter_mm, height_mm;
} ks_family;
const ks_family *ks_families_usual(int *n, ks_arena *arena);

/* Fills what the shape leaves to be assumed; `piece` has room for it. False if there is no such
 * shape. */
bool ks_shape_fill(const ks_field_reader *reader, const char *shape, ks_json *piece,
                   ks_sizing *out);
enum { KS_SHAPE_FILLS = 6 };

/* Whether the word is a shape, and which of its sizes a single number is: "diameter", "height" or
 * "width". NULL = no shape. */
const char *ks_shape_single(const char *word);
const char *ks_shapes_tell(ks_arena *arena); /* "bowl, casserole, ..." */

#endif
