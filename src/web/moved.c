#include "web/moved.h"

#include "studio/stacked.h"

#include <math.h>
#include <string.h>

typedef struct {
    ks_load *load;
    const ks_order *order;
    int level, to_level;
    bool *goes; /* of each piece of the level it leaves */
    ks_stand from, to;
    double lift_mm; /* that it loses by standing on a shelf again */
    ks_arena *arena;
} move;

static double on_grid(double value, double step)
{
    return floor(value / step + 0.5) * step;
}

static ks_stand gridded(ks_stand stand)
{
    double turn = on_grid(stand.turn_deg - 360 * floor(stand.turn_deg / 360), KS_TURN_STEP);
    return (ks_stand){on_grid(stand.x, KS_GRID), on_grid(stand.y, KS_GRID), turn < 360 ? turn : 0};
}

static bool is_on(const ks_placed *upper, const ks_placed *lower)
{
    return upper->on_id && upper->on_copy == lower->copy && strcmp(upper->on_id, lower->id) == 0;
}

/* Whatever stands on what goes, goes too. */
static void find_stack(move *m, int item)
{
    const ks_level *level = &m->load->levels[m->level];
    m->goes[item] = true;
    for (bool more = true; more;) {
        more = false;
        for (int k = 0; k < level->n_pieces; k++)
            for (int i = 0; i < level->n_pieces && !m->goes[k]; i++)
                if (m->goes[i] && is_on(&level->pieces[k], &level->pieces[i]))
                    more = m->goes[k] = true;
    }
}

/* An outline that stood as the piece did, where it stands now. */
static ks_outline carried(const move *m, const ks_outline *outline)
{
    ks_point *own = KS_TAKE(m->arena, outline->n, ks_point);
    ks_stand by = {m->to.x, m->to.y, m->to.turn_deg - m->from.turn_deg};
    by.turn_deg -= 360 * floor(by.turn_deg / 360);
    for (int i = 0; i < outline->n; i++)
        own[i] = (ks_point){outline->at[i].x - m->from.x, outline->at[i].y - m->from.y};
    ks_outline shape = {outline->n, own, outline->round};
    ks_outline placed = ks_outline_place(&shape, by, m->arena);
    return ks_outline_gridded(&placed, m->arena);
}

/* Its own form as the order has it, turned from there, so that turning it often loses nothing. */
static bool place_anew(const move *m, ks_placed *placed)
{
    ks_part *told;
    if (placed->piece < 0 || placed->way != KS_NO_WAY)
        return false;
    int n = ks_piece_posed(&m->order->pieces[placed->piece], placed->pose, m->arena, &told);
    for (int p = 0; p < n && n == placed->n_parts; p++) {
        ks_outline outline = ks_outline_place(&told[p].outline, placed->stand, m->arena);
        placed->parts[p].outline = ks_outline_gridded(&outline, m->arena);
        if (told[p].hollow.n > 0) {
            ks_outline hollow = ks_outline_place(&told[p].hollow, placed->stand, m->arena);
            placed->parts[p].hollow = ks_outline_gridded(&hollow, m->arena);
        }
    }
    return n == placed->n_parts;
}

static ks_placed at_its_place(const move *m, const ks_placed *was)
{
    ks_placed placed = *was;
    const ks_point origin = {was->stand.x, was->stand.y};
    const ks_outline point = {1, &origin, 0};
    ks_point there = carried(m, &point).at[0];
    placed.stand = gridded(
        (ks_stand){there.x, there.y, was->stand.turn_deg + m->to.turn_deg - m->from.turn_deg});
    placed.top_mm -= m->lift_mm;
    placed.parts = KS_TAKE(m->arena, was->n_parts, ks_part);
    for (int p = 0; p < was->n_parts; p++) {
        placed.parts[p] = was->parts[p];
        placed.parts[p].from_mm -= m->lift_mm;
        placed.parts[p].to_mm -= m->lift_mm;
    }
    if (place_anew(m, &placed))
        return placed;
    for (int p = 0; p < was->n_parts; p++) {
        placed.parts[p].outline = carried(m, &was->parts[p].outline);
        if (was->parts[p].hollow.n > 0)
            placed.parts[p].hollow = carried(m, &was->parts[p].hollow);
    }
    return placed;
}

/* A piece that stood on another stands on the shelf from now on. */
static void set_down(move *m, ks_placed *piece)
{
    ks_part *told;
    if (!piece->on_id || piece->n_parts == 0)
        return;
    double foot = 0;
    if (piece->piece >= 0 &&
        ks_piece_posed(&m->order->pieces[piece->piece], piece->pose, m->arena, &told) > 0)
        foot = told[0].from_mm;
    m->lift_mm = piece->parts[0].from_mm - foot;
    piece->on_id = NULL;
    piece->on_copy = 0;
    piece->way = KS_NO_WAY;
}

static bool puts_piece(const ks_step *step)
{
    return step->put == KS_PUT_PIECE || step->put == KS_PUT_CONES;
}

static bool has_come(const move *m, const ks_step *step, int first_new)
{
    return puts_piece(step) && step->level == m->to_level && step->item >= first_new;
}

/* Steps name pieces by their place in a level, which changes for those behind one that goes. */
static void mend_steps(const move *m, const int *new_item)
{
    for (int s = 0; s < m->load->n_steps; s++) {
        ks_step *step = &m->load->steps[s];
        if (!puts_piece(step) || step->level != m->level)
            continue;
        int was = step->item;
        step->item = new_item[was];
        step->level = m->goes[was] ? m->to_level : m->level;
    }
}

/* What has changed its level goes in as the last of its new one. */
static void order_steps(const move *m, int first_new)
{
    ks_load *load = m->load;
    ks_step *all = KS_TAKE(m->arena, load->n_steps, ks_step);
    int n = 0, last = -1;
    for (int s = 0; s < load->n_steps; s++) {
        const ks_step *step = &load->steps[s];
        if (step->level == m->to_level && step->put != KS_PUT_POSTS &&
            !has_come(m, step, first_new))
            last = s;
    }
    for (int s = 0; s < load->n_steps; s++) {
        if (!has_come(m, &load->steps[s], first_new))
            all[n++] = load->steps[s];
        for (int k = 0; s == last && k < load->n_steps; k++)
            if (has_come(m, &load->steps[k], first_new))
                all[n++] = load->steps[k];
    }
    if (n == load->n_steps)
        load->steps = all;
}

/* On the same level each stays where it is in the list. */
static void write_levels(move *m, int item, const ks_placed **moved, int *n_moved)
{
    ks_level *from = &m->load->levels[m->level], *to = &m->load->levels[m->to_level];
    bool stays = from == to;
    int n_there = to->n_pieces;
    int n = from->n_pieces, kept = 0, more = stays ? 0 : to->n_pieces;
    int *new_item = KS_TAKE(m->arena, n, int);
    ks_placed *rest = KS_TAKE(m->arena, n, ks_placed);
    ks_placed *all = stays ? rest : KS_TAKE(m->arena, to->n_pieces + n, ks_placed);
    if (!stays && more > 0)
        memcpy(all, to->pieces, (size_t)more * sizeof *all);
    for (int k = 0; k < n; k++) {
        bool leaves = m->goes[k] && !stays;
        ks_placed *into = leaves ? &all[new_item[k] = more++] : &rest[new_item[k] = kept++];
        *into = m->goes[k] ? at_its_place(m, &from->pieces[k]) : from->pieces[k];
        if (m->goes[k])
            moved[k == item ? 0 : ++*n_moved] = into;
    }
    mend_steps(m, new_item);
    from->pieces = rest;
    from->n_pieces = kept;
    if (!stays) {
        to->pieces = all;
        to->n_pieces = more;
        order_steps(m, n_there);
    }
}

int ks_moved(ks_load *load, const ks_order *order, int level, int item, int to_level,
             ks_stand stand, ks_arena *arena, const ks_placed *const **moved)
{
    ks_level *from = &load->levels[level];
    ks_placed *piece = &from->pieces[item];
    move m = {.load = load, .order = order, .level = level, .to_level = to_level, .arena = arena};
    const ks_placed **found = KS_TAKE(arena, from->n_pieces, const ks_placed *);
    int others = 0;
    m.goes = KS_TAKE(arena, from->n_pieces, bool);
    m.from = piece->stand;
    m.to = gridded(stand);
    find_stack(&m, item);
    set_down(&m, piece);
    write_levels(&m, item, found, &others);
    *moved = found;
    return others + 1;
}
