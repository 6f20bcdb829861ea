#include "pack/tower/stance.h"
#include "pack/tower/tower.h"
#include "studio/parts.h"

#include <math.h>
#include <stdlib.h>

/* What the packer sees of a tower: one list of enclosing blocks. Rounds about the axis become one
 * outline by heights, in few steps; what else there is (handles, corners) stays as it is. */

enum { STEPS = 12 };
#define AXIS_MM 1e-9

typedef struct {
    double from_mm, to_mm, r_mm;
} step;

static bool is_about_axis(const ks_outline *outline)
{
    return outline->n == 1 && fabs(outline->at[0].x) < AXIS_MM && fabs(outline->at[0].y) < AXIS_MM;
}

static int by_height(const void *x, const void *y)
{
    double a = *(const double *)x, b = *(const double *)y;
    return (a > b) - (a < b);
}

/* The widest round at each height; between two of them there may be none. */
static int outline_of(int n, const ks_part *parts, step *steps, ks_arena *arena)
{
    double *ends = KS_TAKE(arena, 2 * n, double);
    int n_ends = 0, n_steps = 0;
    for (int p = 0; p < n; p++)
        if (is_about_axis(&parts[p].outline)) {
            ends[n_ends++] = parts[p].from_mm;
            ends[n_ends++] = parts[p].to_mm;
        }
    qsort(ends, (size_t)n_ends, sizeof *ends, by_height);
    for (int e = 0; e + 1 < n_ends; e++) {
        step s = {ends[e], ends[e + 1], 0};
        for (int p = 0; p < n; p++)
            if (is_about_axis(&parts[p].outline) && parts[p].from_mm < s.to_mm &&
                parts[p].to_mm > s.from_mm)
                s.r_mm = fmax(s.r_mm, parts[p].outline.round);
        if (s.to_mm > s.from_mm && s.r_mm > 0)
            steps[n_steps++] = s;
    }
    return n_steps;
}

/* What enclosing two steps in one adds, as a volume but for pi; they may leave a gap. */
static double added(const step *a, const step *b)
{
    double r = fmax(a->r_mm, b->r_mm);
    return r * r * (b->to_mm - a->from_mm) - a->r_mm * a->r_mm * (a->to_mm - a->from_mm) -
           b->r_mm * b->r_mm * (b->to_mm - b->from_mm);
}

static int joined(step *steps, int n)
{
    while (n > 1) {
        int best = 0;
        for (int s = 1; s + 1 < n; s++)
            if (added(&steps[s], &steps[s + 1]) < added(&steps[best], &steps[best + 1]))
                best = s;
        if (n <= STEPS && added(&steps[best], &steps[best + 1]) > 0)
            break;
        steps[best].to_mm = steps[best + 1].to_mm;
        steps[best].r_mm = fmax(steps[best].r_mm, steps[best + 1].r_mm);
        for (int s = best + 1; s + 1 < n; s++)
            steps[s] = steps[s + 1];
        n--;
    }
    return n;
}

/* Whether the rounds hide a part that is none: then it says nothing more. */
static bool is_hidden(const ks_part *part, const step *steps, int n)
{
    double covered = 0;
    for (int s = 0; s < n; s++)
        if (ks_outline_reach(&part->outline) <= steps[s].r_mm)
            covered +=
                fmax(0, fmin(part->to_mm, steps[s].to_mm) - fmax(part->from_mm, steps[s].from_mm));
    return covered >= part->to_mm - part->from_mm - AXIS_MM;
}

int ks_parts_in_steps(int n, const ks_part *parts, ks_arena *arena, ks_part **out)
{
    step *steps = KS_TAKE(arena, 2 * n, step);
    int n_steps = joined(steps, outline_of(n, parts, steps, arena));
    ks_part_list list = {.arena = arena};
    for (int s = 0; s < n_steps; s++)
        ks_part_add(&list, steps[s].from_mm > 0 ? KS_PART_BODY : KS_PART_FOOT, steps[s].from_mm,
                    steps[s].to_mm, ks_outline_disc(0, 0, steps[s].r_mm, arena));
    for (int p = 0; p < n; p++)
        if (!is_about_axis(&parts[p].outline) && !is_hidden(&parts[p], steps, n_steps))
            ks_part_add(&list, parts[p].kind, parts[p].from_mm, parts[p].to_mm, parts[p].outline);
    *out = list.at;
    return list.n;
}

/* One block as long as the row with its lean, as wide as it gets. */
static int row_block(const ks_stance *tile, int n, ks_arena *arena, ks_part **out)
{
    ks_box box = ks_outline_box(&tile->parts[0].outline);
    double length = n * (box.y1 - box.y0) + KS_LEAN * tile->height_mm;
    ks_part_list list = {.arena = arena};
    ks_part_add(&list, KS_PART_FOOT, 0, tile->height_mm,
                ks_outline_rectangle(box.x1 - box.x0, length, 0, arena));
    list.at[0].outline.round = tile->outward_mm;
    *out = list.at;
    return list.n;
}

int ks_tower_parts(const ks_order *order, const ks_tower *tower, ks_arena *arena, ks_part **out)
{
    ks_part_list list = {.arena = arena};
    for (int m = 0; m < tower->n; m++) {
        const ks_tower_member *member = &tower->members[m];
        ks_stance stance;
        if (!ks_stance_of(order, member->piece, member->pose, arena, &stance))
            continue;
        if (member->way == KS_EDGE)
            return row_block(&stance, tower->n, arena, out);
        for (int p = 0; p < stance.n_parts; p++)
            ks_part_add(&list, stance.parts[p].kind, stance.parts[p].from_mm + member->lift_mm,
                        stance.parts[p].to_mm + member->lift_mm,
                        ks_part_widest(&stance.parts[p], stance.outward_mm));
    }
    return ks_parts_in_steps(list.n, list.at, arena, out);
}
