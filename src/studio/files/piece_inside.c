#include "base/fold.h"
#include "base/words.h"
#include "studio/forms/hollow.h"
#include "studio/files/piece_file.h"

#include <string.h>

/* All figures: common practice, no source. */
static const double floor_over_wall_mm = 3; /* a turned foot beneath the floor */
/* Round ware of which nothing but diameter and height is known holds nothing when it is taller
 * than this many diameters (a bottle), or lower than that (a plate). */
static const double tallest_open = 1.6, lowest_open = 0.25;

bool ks_inside_is_wanted(const ks_piece_entry *entry)
{
    const ks_piece *piece = &entry->piece;
    return !entry->closed && !piece->glazed && !piece->runny && !piece->has_setter &&
           piece->role == KS_WARE && piece->stage != KS_LEATHER;
}

void ks_inside_take(ks_reading *reading, ks_piece_entry *entry, double breadth_mm, double *wall_mm,
                    double *floor_mm)
{
    ks_arena *arena = reading->fields.arena;
    ks_piece *piece = &entry->piece;
    ks_default_take(&piece->wall_mm, ks_gridded(ks_usual_wall_mm(breadth_mm)), &piece->defaults,
                    "wall", arena);
    ks_default_take(&entry->floor_mm, piece->wall_mm + floor_over_wall_mm, &piece->defaults,
                    "floor", arena);
    *wall_mm = piece->wall_mm;
    *floor_mm = entry->floor_mm;
}

/* Shapes whose lid is on, or whose neck nobody has measured. */
static bool is_closed_shape(const ks_json *node)
{
    const ks_json *shape = ks_json_get(node, "shape"), *spout = ks_json_get(node, "spout");
    bool spouted = spout && !(spout->kind == KS_JSON_BOOL && !spout->truth);
    return spouted || (shape && shape->kind == KS_JSON_TEXT &&
                       ks_words_find("casserole|jar|teapot|vase", shape->text, true) >= 0);
}

static double across(const ks_outline *outline)
{
    ks_box box = ks_outline_box(outline);
    return box.x1 - box.x0;
}

bool ks_inside_add(ks_reading *reading, ks_piece_entry *entry, const ks_outline *foot,
                   const ks_outline *body, double foot_mm, ks_part_list *list)
{
    double width = across(body), height = entry->height_mm, wall, floor_mm;
    if (isnan(entry->diameter_mm) || !ks_inside_is_wanted(entry) || is_closed_shape(entry->node) ||
        height > tallest_open * width || height <= lowest_open * width)
        return false;
    ks_inside_take(reading, entry, width, &wall, &floor_mm);
    ks_hollow_cone room = {.from_mm = foot_mm,
                           .to_mm = height,
                           .floor_mm = fmax(floor_mm, foot_mm),
                           .low_r_mm = fmin(across(foot), width) / 2 - wall,
                           .high_r_mm = width / 2 - wall};
    if (room.low_r_mm <= 0 || room.floor_mm >= height)
        return false;
    ks_default_note(&entry->piece.defaults, "inside", reading->fields.arena);
    ks_hollow_cone_add(&room, body, list);
    return true;
}
