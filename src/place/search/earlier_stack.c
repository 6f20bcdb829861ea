#include "place/search/earlier_stack.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The furniture of an earlier load, in this order's terms: which bay, support, standing, posts. */

#define SAME_MM 0.01

typedef struct {
    const ks_load *load;
    const ks_furniture *furniture;
    ks_arena *arena;
} reading;

static bool is_same(const ks_outline *a, const ks_outline *b)
{
    bool same = a->n == b->n && fabs(a->round - b->round) < SAME_MM;
    for (int i = 0; same && i < a->n; i++)
        same = fabs(a->at[i].x - b->at[i].x) < SAME_MM && fabs(a->at[i].y - b->at[i].y) < SAME_MM;
    return same;
}

static bool is_shelved_so(const reading *r, const ks_level *level, const ks_support *support)
{
    const ks_kiln *kiln = r->furniture->kiln;
    bool same = level->n_shelves == support->n_shelves;
    for (int s = 0; same && s < support->n_shelves; s++) {
        const ks_shelf_kind *kind = &kiln->shelves[support->shelves[s].kind];
        ks_outline at = ks_outline_place(&kind->outline, support->shelves[s].stand, r->arena);
        same =
            strcmp(level->shelves[s].id, kind->id) == 0 && is_same(&level->shelves[s].outline, &at);
    }
    return same;
}

static ks_um underside(const ks_level *level)
{
    return ks_um_of(level->z_mm) - ks_um_of(level->n_shelves ? level->shelves[0].thickness_mm : 0);
}

/* Whether the post is of this cross-section, wherever it stands. */
static bool is_of(const reading *r, const ks_post *post, const ks_outline *section)
{
    ks_stand to = {post->outline.at[0].x - section->at[0].x,
                   post->outline.at[0].y - section->at[0].y, 0};
    ks_outline at = ks_outline_place(section, to, r->arena);
    return is_same(&post->outline, &at);
}

/* The gap that its posts make, as they are stacked; -1 for the floor and for posts not in stock. */
static int gap_under(const reading *r, const ks_level *level)
{
    const ks_furniture *f = r->furniture;
    for (int i = 0; i < r->load->n_posts; i++) {
        const ks_post *post = &r->load->posts[i];
        if (ks_um_of(post->to_mm) != underside(level) || !ks_post_meets_level(post, level))
            continue;
        for (int g = 0; g < f->n_gaps; g++) {
            bool same =
                f->gaps[g].n == post->n_heights && is_of(r, post, &f->sections[f->gaps[g].section]);
            for (int k = 0; same && k < f->gaps[g].n; k++)
                same = fabs(f->kiln->posts[f->gaps[g].kind[k]].height_mm - post->heights_mm[k]) <
                       SAME_MM;
            if (same)
                return g;
        }
    }
    return -1;
}

static bool holds_bay(const ks_arrangement *up, int bay)
{
    for (int b = 0; b < up->n_bays; b++)
        if (up->bays[b] == bay)
            return true;
    return false;
}

/* Whether a bay of another arrangement follows higher up: then the bays below went in step. */
static bool is_followed(const reading *r, const ks_stack *stack, int level, int arrangement)
{
    for (int l = 0; l < stack->n_levels; l++)
        if (stack->levels[l].z > stack->levels[level].z &&
            !holds_bay(&r->furniture->kiln->arrangements[arrangement], stack->levels[l].bay))
            return true;
    return false;
}

static bool has_way(const ks_column *column, int bay, int support)
{
    for (int b = 0; b < column->n_bays; b++)
        for (int w = 0; w < column->n_ways; w++)
            if (column->bays[b] == bay && column->ways[w].supports[b] == support)
                return true;
    return false;
}

static bool find_column(const reading *r, ks_stack *stack, int level, int places)
{
    ks_stack_level *at = &stack->levels[level];
    for (int s = 0; s < r->furniture->n_post_layouts; s++) {
        const ks_post_layout *st = &r->furniture->post_layouts[s];
        bool parts = st->n_columns > 1 || st->in_step;
        if (st->places != places ||
            (parts && st->in_step != is_followed(r, stack, level, st->arrangement)))
            continue;
        for (int c = 0; c < st->n_columns; c++)
            if (has_way(&st->columns[c], at->bay, at->support)) {
                at->standing = s;
                at->column = c;
                return true;
            }
    }
    return false;
}

static bool read_level(const reading *r, const ks_level *from, ks_stack_level *to)
{
    const ks_kiln *kiln = r->furniture->kiln;
    *to = (ks_stack_level){.bay = -1,
                           .support = -1,
                           .z = ks_um_of(from->z_mm),
                           .gap = ks_um_of(from->gap_mm),
                           .under = gap_under(r, from),
                           .posts = -1};
    for (int b = 0; b < kiln->n_bays; b++)
        if (strcmp(kiln->bays[b].id, from->bay) == 0)
            to->bay = b;
    for (int s = 0; to->bay >= 0 && s < kiln->bays[to->bay].n_supports && to->support < 0; s++)
        if (is_shelved_so(r, from, &kiln->bays[to->bay].supports[s]))
            to->support = s;
    return to->support >= 0;
}

/* What stands on a level is what carries those over it. */
static void join_stack(const reading *r, ks_stack *stack)
{
    for (int l = 0; l < stack->n_levels; l++) {
        ks_stack_level *at = &stack->levels[l];
        for (int m = 0; m < stack->n_levels; m++) {
            const ks_stack_level *over = &stack->levels[m];
            if (underside(&r->load->levels[m]) == at->z + at->gap &&
                (over->bay == at->bay || over->standing != at->standing))
                at->posts = over->under;
            at->number += m < l && over->bay == at->bay;
        }
    }
}

bool ks_before_stack(const ks_load *load, const ks_furniture *furniture, int places,
                     ks_stack *stack, ks_arena *arena)
{
    reading r = {load, furniture, arena};
    bool found = load->n_levels > 0;
    *stack = (ks_stack){load->n_levels, KS_TAKE(arena, load->n_levels, ks_stack_level), 0};
    for (int l = 0; l < load->n_levels && found; l++)
        found = read_level(&r, &load->levels[l], &stack->levels[l]);
    for (int l = 0; l < load->n_levels && found; l++)
        found = find_column(&r, stack, l, places);
    if (found)
        join_stack(&r, stack);
    return found;
}

int ks_before_stack_top(const ks_stack *stack)
{
    int top = -1;
    for (int l = 0; l < stack->n_levels; l++)
        if (stack->levels[l].posts < 0 && (top < 0 || stack->levels[l].z > stack->levels[top].z))
            top = l;
    return top;
}

/* The gap of the stock that is the nth from the lowest that leaves `clear`; -1 where there is none.
 */
static int nth_gap(const ks_furniture *f, ks_um clear, int section, int nth)
{
    int found = -1;
    for (ks_um above = clear - 1; nth >= 0; nth--) {
        found = -1;
        for (int g = 0; g < f->n_gaps; g++)
            if (f->gaps[g].height > above && (section < 0 || f->gaps[g].section == section) &&
                (found < 0 || f->gaps[g].height < f->gaps[found].height))
                found = g;
        if (found < 0)
            return -1;
        above = f->gaps[found].height;
    }
    return found;
}

bool ks_before_stack_higher(const ks_furniture *furniture, const ks_stack *stack, ks_um clear,
                            int nth, ks_stack *higher, ks_arena *arena)
{
    int top = ks_before_stack_top(stack);
    if (top < 0)
        return false;
    const ks_stack_level *below = &stack->levels[top];
    int section = below->under < 0 ? -1 : furniture->gaps[below->under].section;
    int gap = nth_gap(furniture, clear, section, nth);
    const ks_support *support = &furniture->kiln->bays[below->bay].supports[below->support];
    ks_um thickness = ks_um_of(furniture->kiln->shelves[support->shelves[0].kind].thickness_mm);
    if (gap < 0 || furniture->gaps[gap].height + thickness >= below->gap)
        return false;
    int n = stack->n_levels;
    *higher = (ks_stack){n + 1, KS_TAKE(arena, n + 1, ks_stack_level), stack->value};
    memcpy(higher->levels, stack->levels, sizeof *stack->levels * (size_t)n);
    ks_stack_level *under = &higher->levels[top], *added = &higher->levels[n];
    *added = *under;
    added->under = gap;
    added->number++;
    added->z = under->z + furniture->gaps[gap].height + thickness;
    added->gap = under->gap - furniture->gaps[gap].height - thickness;
    under->posts = gap;
    under->gap = furniture->gaps[gap].height;
    return true;
}
