#include "app/record/put_right.h"

#include "base/words.h"
#include "studio/level_name.h"

#include <string.h>

/* The load being put right, in a plan of its own. */
typedef struct {
    const ks_plan *plan;
    ks_load *load;
    const char **names; /* of its levels */
    ks_arena *arena;
    ks_error *err;
} righting;

static ks_plan *own_copy(const ks_plan *plan, int load, ks_arena *arena)
{
    ks_plan *copy = KS_TAKE(arena, 1, ks_plan);
    *copy = *plan;
    copy->loads = KS_TAKE(arena, plan->n_loads, ks_load);
    memcpy(copy->loads, plan->loads, (size_t)plan->n_loads * sizeof *copy->loads);
    ks_load *own = &copy->loads[load];
    own->levels = KS_TAKE(arena, own->n_levels, ks_level);
    for (int l = 0; l < own->n_levels; l++) {
        ks_level *level = &own->levels[l];
        *level = plan->loads[load].levels[l];
        level->pieces = KS_TAKE(arena, level->n_pieces, ks_placed);
        for (int p = 0; p < level->n_pieces; p++)
            level->pieces[p] = plan->loads[load].levels[l].pieces[p];
    }
    own->n_steps = 0; /* the walk of loading was another */
    return copy;
}

static bool is_meant(const righting *r, int level, const ks_correction *what)
{
    return !*what->level || strcmp(r->names[level], what->level) == 0;
}

static bool carries(const ks_level *level, const ks_placed *placed)
{
    for (int p = 0; p < level->n_pieces; p++) {
        const ks_placed *other = &level->pieces[p];
        if (other->on_id && strcmp(other->on_id, placed->id) == 0 && other->on_copy == placed->copy)
            return true;
    }
    return false;
}

/* The last copy of the kind that carries nothing, else the last; false where there is none. */
static bool find_copy(const righting *r, const ks_correction *what, int *level, int *place)
{
    bool found = false, bare = false;
    for (int l = r->load->n_levels - 1; l >= 0 && !bare; l--)
        for (int p = r->load->levels[l].n_pieces - 1; p >= 0 && !bare; p--) {
            const ks_placed *placed = &r->load->levels[l].pieces[p];
            if (!is_meant(r, l, what) || placed->role == KS_CONES ||
                strcmp(placed->id, what->piece) != 0)
                continue;
            bare = !carries(&r->load->levels[l], placed);
            if (bare || !found) {
                *level = l;
                *place = p;
            }
            found = true;
        }
    return found;
}

static ks_status take_out(const righting *r, const ks_correction *what)
{
    int level, place;
    for (int i = 0; i < -what->copies; i++) {
        if (!find_copy(r, what, &level, &place))
            return ks_fail(r->err, KS_BAD_USAGE, "--not-in: found %d x %s; %d were to go in%s%s",
                           -what->copies, what->piece, i, *what->level ? " on level " : "",
                           what->level);
        ks_level *at = &r->load->levels[level];
        memmove(&at->pieces[place], &at->pieces[place + 1],
                (size_t)(at->n_pieces - place - 1) * sizeof *at->pieces);
        at->n_pieces--;
    }
    return KS_OK;
}

static int piece_of(const righting *r, const char *id)
{
    for (int i = 0; i < r->plan->order->n_pieces; i++)
        if (strcmp(r->plan->order->pieces[i].id, id) == 0)
            return i;
    return -1;
}

/* Another copy of the kind in any load, NULL if there is none; *copies = the highest of them. */
static const ks_placed *pattern_of(const righting *r, int piece, int *copies)
{
    const ks_placed *found = NULL;
    *copies = 0;
    for (int n = 0; n < r->plan->n_loads; n++)
        for (int l = 0; l < r->plan->loads[n].n_levels; l++)
            for (int p = 0; p < r->plan->loads[n].levels[l].n_pieces; p++) {
                const ks_placed *placed = &r->plan->loads[n].levels[l].pieces[p];
                if (placed->piece != piece)
                    continue;
                *copies = placed->copy > *copies ? placed->copy : *copies;
                found = placed;
            }
    return found;
}

static ks_placed put_in_the_middle(const righting *r, int piece)
{
    const ks_piece *of = &r->plan->order->pieces[piece];
    ks_placed placed = {.piece = piece,
                        .id = of->id,
                        .owner = of->owner,
                        .role = of->role,
                        .pose = of->pose,
                        .glazed = of->glazed,
                        .around_mm = of->around_mm,
                        .top_mm = of->height_mm,
                        .n_parts = of->n_parts};
    placed.parts = KS_TAKE(r->arena, of->n_parts, ks_part);
    for (int i = 0; i < of->n_parts; i++)
        placed.parts[i] = ks_part_placed(&of->parts[i], placed.stand, r->arena);
    return placed;
}

/* Where its own kind stands, else on the lowest level. */
static ks_level *level_for(const righting *r, const ks_correction *what)
{
    ks_correction of = {what->piece, what->level, 0};
    int level, place;
    if (find_copy(r, &of, &level, &place))
        return &r->load->levels[level];
    for (int l = 0; l < r->load->n_levels; l++)
        if (is_meant(r, l, what))
            return &r->load->levels[l];
    return NULL;
}

static ks_status put_in(const righting *r, const ks_correction *what)
{
    int piece = piece_of(r, what->piece), copies;
    ks_level *level = level_for(r, what);
    if (piece < 0)
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--also-in: found \"%s\"; the plan's order has no ware of that id, so that "
                       "its size and owner are not known",
                       what->piece);
    if (!level)
        return ks_fail(r->err, KS_BAD_USAGE, "--also-in: found level \"%s\"; the load has none",
                       what->level);
    const ks_placed *pattern = pattern_of(r, piece, &copies);
    ks_placed *all = KS_TAKE(r->arena, level->n_pieces + what->copies, ks_placed);
    for (int p = 0; p < level->n_pieces; p++)
        all[p] = level->pieces[p];
    for (int i = 0; i < what->copies; i++) {
        ks_placed *placed = &all[level->n_pieces++];
        *placed = pattern ? *pattern : put_in_the_middle(r, piece);
        placed->copy = copies + i + 1;
        placed->on_id = NULL;
        placed->way = KS_NO_WAY;
    }
    level->pieces = all;
    return KS_OK;
}

ks_status ks_load_put_right(const ks_plan *plan, int load, int n, const ks_correction *corrections,
                            ks_arena *arena, const ks_plan **out, ks_error *err)
{
    *out = plan;
    if (n == 0)
        return KS_OK;
    ks_plan *own = own_copy(plan, load, arena);
    righting r = {own, &own->loads[load], ks_level_names(&plan->loads[load], arena), arena, err};
    ks_status status = KS_OK;
    for (int i = 0; i < n && !status; i++)
        if (corrections[i].copies < 0)
            status = take_out(&r, &corrections[i]);
    for (int i = 0; i < n && !status; i++)
        if (corrections[i].copies > 0)
            status = put_in(&r, &corrections[i]);
    *out = own;
    return status;
}
