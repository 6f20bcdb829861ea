#include "fire/pace.h"

#include "studio/display.h"

#include <math.h>
#include <string.h>

#define USUAL_WALL_MM 7.0

static bool raw(ks_stage stage)
{
    return stage == KS_LEATHER || stage == KS_DRY;
}

/* A guess at the wall is what such ware usually has; drying and bursting go by the thickest that is
 * likely, and no published figure says how much that is more. */
#define LIKELY_WALL 1.6
#define LEAST_LIKELY_MM 10.0
#define WIDE_MM 200.0
#define FLAT_HEIGHT 0.25 /* of its breadth */

static double likely_mm(double usual_mm)
{
    return ceil(fmax(LIKELY_WALL * usual_mm, LEAST_LIKELY_MM));
}

static ks_need need_of(const ks_piece *piece, int index)
{
    double across_mm = sqrt(piece->area_mm2 * 4 / 3.14159265358979);
    ks_need need = {.piece = index,
                    .name = piece->name && *piece->name ? piece->name : piece->id,
                    .stage = piece->stage,
                    .wall_mm = piece->wall_mm > 0 ? piece->wall_mm : USUAL_WALL_MM,
                    .flat = piece->height_mm > 0 && piece->height_mm < FLAT_HEIGHT * across_mm,
                    .wide = across_mm >= WIDE_MM};
    bool guessed = !(piece->wall_mm > 0) || (piece->defaults && strstr(piece->defaults, "wall"));
    if (raw(piece->stage) && guessed) {
        need.wall_likely = true;
        need.wall_mm = likely_mm(need.wall_mm);
    }
    const ks_setter *setter = &piece->setter;
    bool clay = setter->kind == KS_PART_SLAB || setter->kind == KS_PART_COOKIE;
    if (piece->has_setter && clay && setter->stage_told && raw(setter->stage)) {
        need.slab_mm = setter->thickness_mm;
        need.wet_slab = setter->stage == KS_LEATHER;
    }
    return need;
}

void ks_needs_of_load(const ks_plan *plan, int load, ks_arena *arena, ks_needs *out)
{
    const ks_load *from = &plan->loads[load];
    bool *seen = KS_TAKE(arena, plan->order->n_pieces, bool);
    *out = (ks_needs){.needs = KS_TAKE(arena, plan->order->n_pieces, ks_need),
                      .firing = &from->firing,
                      .display = &plan->order->display};
    for (int l = 0; l < from->n_levels; l++)
        for (int i = 0; i < from->levels[l].n_pieces; i++) {
            int piece = from->levels[l].pieces[i].piece;
            if (piece < 0 || seen[piece])
                continue;
            seen[piece] = true;
            out->needs[out->n++] = need_of(&plan->order->pieces[piece], piece);
        }
}

void ks_needs_of_bulk(const ks_bulk_load *bulk, ks_arena *arena, ks_needs *out)
{
    *out = (ks_needs){.n = 1, .needs = KS_TAKE(arena, 1, ks_need), .firing = &bulk->firing};
    out->needs[0] = (ks_need){.piece = -1,
                              .name = "the ware",
                              .stage = bulk->stage,
                              .wall_mm = bulk->wall_mm > 0 ? bulk->wall_mm : USUAL_WALL_MM};
}

ks_needs ks_needs_without(const ks_needs *needs, int piece, ks_arena *arena)
{
    ks_needs rest = *needs;
    rest.n = 0;
    rest.needs = KS_TAKE(arena, needs->n, ks_need);
    for (int i = 0; i < needs->n; i++)
        if (needs->needs[i].piece != piece)
            rest.needs[rest.n++] = needs->needs[i];
    return rest;
}

/* A slab between its beds and a flat piece on its shelf give off heat and vapour to one side. */
int ks_walls_of(const ks_need *need, ks_wall out[WALLS])
{
    bool is_raw = raw(need->stage);
    int n = 0;
    out[n++] = (ks_wall){need,          is_raw ? &ks_raw_clay : &ks_bisque,
                         need->wall_mm, need->wall_mm * (need->flat ? 1e-3 : 0.5e-3),
                         is_raw,        need->stage == KS_LEATHER,
                         false};
    if (need->slab_mm > 0)
        out[n++] = (ks_wall){need, &ks_raw_clay,   need->slab_mm, need->slab_mm * 1e-3,
                             true, need->wet_slab, true};
    return n;
}

/* Names go as far as their first comma: "Gate, two thrown legs ..." is Gate. */
const char *ks_wall_words(const ks_wall *wall, const ks_display *display, ks_arena *arena)
{
    const char *mm = ks_show_length(display, wall->mm, arena);
    int length = (int)strcspn(wall->need->name, ",");
    return wall->is_slab
               ? ks_arena_print(arena, "the raw slab of %s under %.*s", mm, length,
                                wall->need->name)
               : ks_arena_print(arena, "the %s wall of %.*s%s", mm, length, wall->need->name,
                                wall->need->wall_likely ? " (guessed)" : "");
}
