#include "fire/pace.h"

#include <string.h>

#define USUAL_WALL_MM 7.0

static bool raw(ks_stage stage)
{
    return stage == KS_LEATHER || stage == KS_DRY;
}

static ks_need need_of(const ks_piece *piece, int index)
{
    ks_need need = {.piece = index,
                    .name = piece->name && *piece->name ? piece->name : piece->id,
                    .stage = piece->stage,
                    .wall_mm = piece->wall_mm > 0 ? piece->wall_mm : USUAL_WALL_MM};
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
                      .firing = &from->firing};
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
    ks_needs rest = {.needs = KS_TAKE(arena, needs->n, ks_need), .firing = needs->firing};
    for (int i = 0; i < needs->n; i++)
        if (needs->needs[i].piece != piece)
            rest.needs[rest.n++] = needs->needs[i];
    return rest;
}
