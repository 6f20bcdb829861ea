#include "pack/search/skyline.h"

#include <string.h>

/* A skyline filled from its lowest place: Burke, Kendall and Whitwell 2004, "A new placement
 * heuristic for the orthogonal stock-cutting problem"; scores: Leung, Zhang and Sim 2011, "A
 * two-stage intelligent search algorithm for the two-dimensional strip packing problem". */

static int lowest(const ks_floor_plan *plan)
{
    int best = 0;
    for (int s = 1; s < plan->n_line; s++)
        if (plan->line[s].y < plan->line[best].y)
            best = s;
    return best;
}

static void remove_line(ks_floor_plan *plan, int s)
{
    plan->n_line--;
    memmove(&plan->line[s], &plan->line[s + 1], (size_t)(plan->n_line - s) * sizeof *plan->line);
}

static void merge(ks_floor_plan *plan, int s)
{
    if (s + 1 < plan->n_line && plan->line[s + 1].y == plan->line[s].y) {
        plan->line[s].w += plan->line[s + 1].w;
        remove_line(plan, s + 1);
    }
    if (s > 0 && plan->line[s - 1].y == plan->line[s].y) {
        plan->line[s - 1].w += plan->line[s].w;
        remove_line(plan, s);
    }
}

static int64_t side_above(const ks_floor_plan *plan, int s, int neighbour)
{
    bool wall = neighbour < 0 || neighbour >= plan->n_line;
    return (wall ? plan->height : plan->line[neighbour].y) - plan->line[s].y;
}

/* The stretch is left empty up to the lower of its sides; false when that is the ceiling. */
static bool raise(ks_floor_plan *plan, int s)
{
    int64_t left = side_above(plan, s, s - 1), right = side_above(plan, s, s + 1);
    int64_t by = left < right ? left : right;
    if (plan->n_line == 1)
        return false;
    plan->line[s].y += by;
    merge(plan, s);
    return plan->line[lowest(plan)].y < plan->height;
}

/* How well a tile fits the lowest stretch; -1 = not at all. */
static int score(const ks_floor_plan *plan, const ks_stretch *at, int64_t side, int64_t w,
                 int64_t h)
{
    if (w > at->w || at->y + h > plan->height)
        return -1;
    if (!plan->by_score)
        return 1;
    bool fills = w == at->w, level = h == side;
    return fills && level ? 5 : fills ? 3 + (h < side) : level ? 2 : 1;
}

typedef struct {
    int place; /* in the row */
    bool turned;
    int score;
} choice;

static choice choose(ks_floor_plan *plan, const ks_stretch *at, int64_t side)
{
    choice best = {-1, false, 0};
    for (int r = 0; r < plan->n; r++) {
        int t = plan->row[r];
        if (plan->used[t] || plan->barred[t])
            continue;
        const ks_tile *one = &plan->tiles[t];
        for (int way = 0; way < 1 + one->may_turn; way++) {
            bool turned = plan->turned[t] != (way == 1);
            int fit = score(plan, at, side, turned ? one->h : one->w, turned ? one->w : one->h);
            if (fit > best.score)
                best = (choice){r, turned, fit};
        }
        if (best.score == (plan->by_score ? 5 : 1))
            break;
    }
    *plan->work += plan->n / 8 + 1;
    return best;
}

/* Lays the tile against the higher side of stretch s. */
static void laid_down(ks_floor_plan *plan, int s, choice what)
{
    ks_stretch *at = &plan->line[s];
    int t = plan->row[what.place];
    int64_t w = what.turned ? plan->tiles[t].h : plan->tiles[t].w;
    int64_t h = what.turned ? plan->tiles[t].w : plan->tiles[t].h;
    bool left = side_above(plan, s, s - 1) >= side_above(plan, s, s + 1);
    int64_t x = left ? at->x : at->x + at->w - w;
    plan->laid[plan->n_laid++] = (ks_tile_laid){t, what.turned, x, at->y};
    plan->used[t] = true;
    ks_stretch over = {x, at->y + h, w}, rest = {left ? at->x + w : at->x, at->y, at->w - w};
    if (rest.w == 0) {
        *at = over;
        merge(plan, s);
        return;
    }
    memmove(at + 1, at, (size_t)(plan->n_line - s) * sizeof *at);
    plan->n_line++;
    at[0] = left ? over : rest;
    at[1] = left ? rest : over;
    merge(plan, left ? s : s + 1);
}

double ks_floor_lay(ks_floor_plan *plan)
{
    double worth = 0;
    memset(plan->used, 0, (size_t)plan->n * sizeof *plan->used);
    plan->n_laid = 0;
    plan->n_line = 1;
    plan->line[0] = (ks_stretch){0, 0, plan->width};
    while (plan->n_laid < plan->n) {
        int s = lowest(plan);
        int64_t left = side_above(plan, s, s - 1), right = side_above(plan, s, s + 1);
        choice what = choose(plan, &plan->line[s], left > right ? left : right);
        if (what.place >= 0) {
            worth += plan->tiles[plan->row[what.place]].worth;
            laid_down(plan, s, what);
        } else if (!raise(plan, s)) {
            break;
        }
    }
    return worth;
}
