#include "draw/sheets/overview.h"

#include <math.h>
#include <string.h>

typedef struct {
    double height_mm;
    int count;
} post_count;

/* Posts by height, tallest first; `counts` has room for two of each. */
static int count_posts(const ks_load *load, post_count *counts)
{
    int n = 0;
    for (int i = 0; i < load->n_posts; i++)
        for (int k = 0; k < load->posts[i].n_heights && k < 2; k++) {
            double height_mm = load->posts[i].heights_mm[k];
            int at = 0;
            while (at < n && counts[at].height_mm > height_mm + 0.5)
                at++;
            if (at < n && fabs(counts[at].height_mm - height_mm) <= 0.5) {
                counts[at].count++;
                continue;
            }
            memmove(counts + at + 1, counts + at, (size_t)(n - at) * sizeof *counts);
            counts[at] = (post_count){height_mm, 1};
            n++;
        }
    return n;
}

/* The first shelf of its kind, or not. */
static bool is_first(const ks_load *load, int level, int shelf)
{
    const char *id = load->levels[level].shelves[shelf].id;
    for (int a = 0; a <= level; a++)
        for (int b = 0; b < load->levels[a].n_shelves && (a < level || b < shelf); b++)
            if (strcmp(load->levels[a].shelves[b].id, id) == 0)
                return false;
    return true;
}

static int count_shelves(const ks_load *load, const char *id)
{
    int count = 0;
    for (int a = 0; a < load->n_levels; a++)
        for (int b = 0; b < load->levels[a].n_shelves; b++)
            count += strcmp(load->levels[a].shelves[b].id, id) == 0;
    return count;
}

static double shelf_lines(ks_flow *flow, double x0, double x1, double y)
{
    const ks_load *load = flow->facts->load;
    ks_arena *arena = flow->sheets->arena;
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_shelves; k++) {
            const ks_shelf *shelf = &load->levels[i].shelves[k];
            if (!is_first(load, i, k))
                continue;
            const char *thick = ks_say_both(flow->facts->display, shelf->thickness_mm, arena);
            y = ks_overview_line(flow, true, x0, x1, y,
                                 ks_arena_print(arena, "%d × shelf %s, %s thick",
                                                count_shelves(load, shelf->id), shelf->id, thick));
        }
    return y;
}

double ks_overview_furniture(ks_flow *flow, double x0, double x1, double y)
{
    ks_arena *arena = flow->sheets->arena;
    post_count *counts = KS_TAKE(arena, 2 * flow->facts->load->n_posts, post_count);
    int n = count_posts(flow->facts->load, counts);
    y = ks_overview_title(flow, x0, x1, y, ks_tr("To fetch"));
    y = shelf_lines(flow, x0, x1, y);
    for (int i = 0; i < n; i++) {
        const char *height = ks_say_both(flow->facts->display, counts[i].height_mm, arena);
        y = ks_overview_line(flow, true, x0, x1, y,
                             ks_arena_print(arena, "%d × post %s", counts[i].count, height));
    }
    return y;
}
