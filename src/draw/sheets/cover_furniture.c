#include "draw/sheets/cover.h"

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

static void shelves_row(ks_flow *flow, const ks_column *columns)
{
    const ks_load *load = flow->facts->load;
    ks_arena *arena = flow->sheets->arena;
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_shelves; k++) {
            const ks_shelf *shelf = &load->levels[i].shelves[k];
            int count = 0;
            bool told = false;
            for (int a = 0; a < load->n_levels; a++)
                for (int b = 0; b < load->levels[a].n_shelves; b++)
                    if (strcmp(load->levels[a].shelves[b].id, shelf->id) == 0) {
                        told |= count == 0 && (a < i || (a == i && b < k));
                        count++;
                    }
            if (told)
                continue;
            const char *cells[] = {
                ks_arena_print(arena, "%d ×", count),
                ks_arena_print(arena, "shelf %s, %s thick", shelf->id,
                               ks_say_both(flow->facts->display, shelf->thickness_mm, arena)),
                ""};
            ks_flow_row(flow, columns, 3, cells, KS_COVER_ROW);
        }
}

void ks_cover_furniture(ks_flow *flow)
{
    static const ks_column columns[] = {{"", 12, 14}, {"", 27, 100}, {"", 130, 40}};
    ks_arena *arena = flow->sheets->arena;
    post_count *counts = KS_TAKE(arena, 2 * flow->facts->load->n_posts, post_count);
    int n = count_posts(flow->facts->load, counts);
    ks_flow_title(flow, ks_tr("Shelves and posts to have ready"), 2 * KS_COVER_ROW);
    double first = flow->y;
    ks_scene *scene = flow->scene;
    shelves_row(flow, columns);
    for (int i = 0; i < n; i++) {
        const char *cells[] = {
            ks_arena_print(arena, "%d ×", counts[i].count),
            ks_arena_print(arena, "post %s",
                           ks_say_both(flow->facts->display, counts[i].height_mm, arena)),
            ""};
        ks_flow_row(flow, columns, 3, cells, KS_COVER_ROW);
    }
    for (double y = first; scene == flow->scene && y + KS_COVER_ROW <= flow->y + 0.01;
         y += KS_COVER_ROW)
        ks_scene_box(scene, KS_LOOK_TICK, (ks_box){5, y + 0.9, 8.6, y + 4.5});
}
