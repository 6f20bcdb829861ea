#include "place/draft/draft.h"

#include <string.h>

/* A firing more than needed costs less than any piece is worth, but more than nothing. */
#define FIRING_COST 1e-6

ks_draft ks_draft_empty(const ks_job *job, ks_arena *arena)
{
    ks_draft draft = {.n_loads = job->n_slots};
    draft.loads = KS_TAKE(arena, job->n_slots, ks_draft_load);
    draft.left = KS_TAKE(arena, job->n_items, int);
    for (int s = 0; s < job->n_slots; s++)
        draft.loads[s].kind = job->slot_kind[s];
    ks_draft_count(job, &draft);
    return draft;
}

static ks_shelf_spot *copy_spots(const ks_shelf_spot *from, int n, ks_arena *arena)
{
    ks_shelf_spot *spots = KS_TAKE(arena, n, ks_shelf_spot);
    for (int i = 0; i < n; i++)
        spots[i] = from[i];
    return spots;
}

ks_draft ks_draft_copy(const ks_job *job, const ks_draft *draft, ks_arena *arena)
{
    ks_draft copy = *draft;
    copy.loads = KS_TAKE(arena, draft->n_loads, ks_draft_load);
    copy.left = KS_TAKE(arena, job->n_items, int);
    memcpy(copy.left, draft->left, sizeof(int) * (size_t)job->n_items);
    for (int s = 0; s < draft->n_loads; s++) {
        ks_draft_load *load = &copy.loads[s];
        *load = draft->loads[s];
        load->levels = KS_TAKE(arena, load->n_levels, ks_draft_level);
        for (int l = 0; l < load->n_levels; l++) {
            ks_draft_level *level = &load->levels[l];
            *level = draft->loads[s].levels[l];
            level->layout.spots = copy_spots(level->layout.spots, level->layout.n_spots, arena);
            level->pins = copy_spots(level->pins, level->n_pins, arena);
        }
    }
    return copy;
}

typedef void on_spot(void *context, ks_shelf_spot spot);

static void each_spot(const ks_draft_load *load, on_spot *seen, void *context)
{
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < level->n_pins; i++)
            seen(context, level->pins[i]);
        for (int i = 0; i < level->layout.n_spots; i++)
            seen(context, level->layout.spots[i]);
    }
}

typedef struct {
    const ks_job *job;
    ks_draft *draft;
    int *in_load;   /* copies of each set in the load looked at */
    bool *together; /* of each set: all of it is in one load */
} count;

static void count_left(void *context, ks_shelf_spot spot)
{
    count *c = context;
    c->draft->left[spot.item]--;
    if (c->job->set[spot.item] >= 0)
        c->in_load[c->job->set[spot.item]]++;
}

/* Ware of a set that is not together counts for nothing. */
static void count_worth(void *context, ks_shelf_spot spot)
{
    count *c = context;
    int set = c->job->set[spot.item];
    if (set >= 0 && !c->together[set])
        return;
    double score = c->job->worth[spot.item] * c->job->urgency[spot.item];
    c->draft->worth += c->job->worth[spot.item];
    c->draft->score += score;
    c->draft->counted += ks_job_is_fill(c->job, spot.item) ? 0 : score;
}

static int set_size_of(const ks_job *job, int set)
{
    int size = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        size += job->set[i] == set ? job->order->pieces[i].count : 0;
    return size;
}

static bool *sets_together(const ks_job *job, ks_draft *draft, ks_arena *arena)
{
    count c = {job, draft, KS_TAKE(arena, job->n_sets, int), KS_TAKE(arena, job->n_sets, bool)};
    for (int s = 0; s < draft->n_loads; s++) {
        memset(c.in_load, 0, sizeof(int) * (size_t)job->n_sets);
        each_spot(&draft->loads[s], count_left, &c);
        for (int k = 0; k < job->n_sets; k++)
            c.together[k] = c.together[k] || c.in_load[k] == set_size_of(job, k);
    }
    return c.together;
}

void ks_draft_count(const ks_job *job, ks_draft *draft)
{
    double all = 0, counted = 0;
    draft->score = draft->worth = draft->counted = 0;
    for (int i = 0; i < job->n_items; i++) {
        draft->left[i] =
            i < job->order->n_pieces && job->items[i].copies > 0 ? job->order->pieces[i].count : 0;
        all += job->worth[i] * draft->left[i];
        counted += ks_job_is_fill(job, i) ? 0 : job->worth[i] * draft->left[i];
    }
    ks_arena scratch = {0};
    count c = {job, draft, NULL, sets_together(job, draft, &scratch)};
    for (int s = 0; s < draft->n_loads; s++) {
        each_spot(&draft->loads[s], count_worth, &c);
        draft->score -= draft->loads[s].n_levels > 0 ? FIRING_COST * all : 0;
        draft->counted -= draft->loads[s].n_levels > 0 ? FIRING_COST * counted : 0;
    }
    ks_arena_finish(&scratch);
    if (job->cone >= 0)
        draft->left[job->cone] = 0;
}

bool ks_draft_is_pinned(const ks_draft *draft, int slot, int piece)
{
    const ks_draft_load *load = &draft->loads[slot];
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pins; i++)
            if (load->levels[l].pins[i].item == piece)
                return true;
    return false;
}

int ks_draft_number(const ks_draft *draft, int slot)
{
    int number = 1;
    for (int s = 0; s < slot; s++)
        number += draft->loads[s].n_levels > 0;
    return number;
}

void ks_draft_clear_level(ks_draft *draft, int slot, int level)
{
    ks_shelf_layout *layout = &draft->loads[slot].levels[level].layout;
    for (int i = 0; i < layout->n_spots; i++)
        draft->left[layout->spots[i].item]++;
    *layout = (ks_shelf_layout){0};
}

void ks_draft_set_level(ks_draft *draft, int slot, int level, ks_shelf_layout layout)
{
    for (int i = 0; i < layout.n_spots; i++)
        draft->left[layout.spots[i].item]--;
    draft->loads[slot].levels[level].layout = layout;
}

bool ks_draft_is_bare(const ks_draft_load *load)
{
    for (int l = 0; l < load->n_levels; l++) {
        if (load->levels[l].n_pins > 0)
            return false;
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            if (load->levels[l].layout.spots[i].item >= 0)
                return false;
    }
    return true;
}

static bool is_empty(const ks_draft_level *level)
{
    return level->layout.n_spots == 0 && level->n_pins == 0;
}

/* Levels that one set of posts carries, with nothing on them and nothing over them. */
static bool is_empty_top(const ks_draft_load *load, int level)
{
    const ks_stack_level *at = &load->levels[level].at;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_stack_level *other = &load->levels[l].at;
        if (other->standing == at->standing && other->column == at->column && other->z == at->z &&
            (other->posts >= 0 || !is_empty(&load->levels[l])))
            return false;
    }
    return true;
}

static ks_um thickness_of(const ks_job *job, const ks_draft_load *load, const ks_stack_level *at)
{
    const ks_furniture *f = job->kinds[load->kind].furniture;
    const ks_column *column = &f->post_layouts[at->standing].columns[at->column];
    for (int w = 0; w < column->n_ways; w++)
        for (int b = 0; b < column->n_bays; b++)
            if (column->bays[b] == at->bay && column->ways[w].supports[b] == at->support)
                return column->ways[w].thickness;
    return 0;
}

/* The level in the same column on which these shelves rest; -1 when there is none: the column may
 * stand on shelves of another arrangement, and on levels of its own only below those. */
static int level_under(const ks_job *job, const ks_draft_load *load, const ks_stack_level *top,
                       int bay)
{
    ks_um underside = top->z - thickness_of(job, load, top);
    for (int l = 0; l < load->n_levels; l++) {
        const ks_stack_level *at = &load->levels[l].at;
        if (at->standing == top->standing && at->column == top->column && at->bay == bay &&
            at->z + at->gap == underside)
            return l;
    }
    return -1;
}

/* The lid asks for more room than a shelf does, so ware under a shelf may be too near to it. */
static bool bears_the_lid(const ks_job *job, const ks_draft_load *load, const ks_stack_level *top)
{
    const ks_load_kind *kind = &job->kinds[load->kind];
    ks_um lid = ks_um_of(kind->furniture->kiln->height_mm);
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        double clear_mm = ks_gap_clear_mm(kind, lid - level->at.z, true);
        for (int i = 0; i < level->layout.n_spots; i++)
            if (level_under(job, load, top, level->at.bay) == l &&
                job->height_mm[level->layout.spots[i].item] > clear_mm)
                return false;
    }
    return true;
}

/* Shelves with nothing on them at the top of a column stay out; the level below reaches the lid. */
static bool top_taken_off(const ks_job *job, ks_draft_load *load)
{
    ks_um lid = ks_um_of(job->kinds[load->kind].furniture->kiln->height_mm);
    for (int t = load->n_levels - 1; t >= 0; t--) {
        ks_stack_level top = load->levels[t].at;
        if (!is_empty_top(load, t) || level_under(job, load, &top, top.bay) < 0 ||
            !bears_the_lid(job, load, &top))
            continue;
        int kept = 0;
        for (int l = 0; l < load->n_levels; l++) {
            ks_stack_level *at = &load->levels[l].at;
            if (at->standing == top.standing && at->column == top.column && at->z == top.z)
                continue;
            if (level_under(job, load, &top, at->bay) == l) {
                at->posts = -1;
                at->gap = lid - at->z;
            }
            load->levels[kept++] = load->levels[l];
        }
        load->n_levels = kept;
        return true;
    }
    return false;
}

static int spots_kept(const ks_job *job, const bool *together, ks_shelf_spot *spots, int n)
{
    int kept = 0;
    for (int i = 0; i < n; i++) {
        int set = job->set[spots[i].item];
        if (set < 0 || together[set])
            spots[kept++] = spots[i];
    }
    return kept;
}

void ks_draft_settle(const ks_job *job, ks_draft *draft)
{
    ks_arena scratch = {0};
    ks_draft_count(job, draft);
    for (int i = 0; i < job->order->n_pieces; i++)
        draft->left[i] = 0;
    bool *together = sets_together(job, draft, &scratch);
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++) {
            ks_draft_level *level = &draft->loads[s].levels[l];
            ks_shelf_layout *layout = &level->layout;
            layout->n_spots = spots_kept(job, together, layout->spots, layout->n_spots);
            level->n_pins = spots_kept(job, together, level->pins, level->n_pins);
        }
    for (int s = 0; s < draft->n_loads; s++)
        while (draft->loads[s].n_levels > 1 && top_taken_off(job, &draft->loads[s]))
            ;
    ks_draft_count(job, draft);
    ks_arena_finish(&scratch);
}
