#include "draw/sheets/overview.h"
#include "draw/sheets/side.h"

#include <math.h>

/* Room that the heights beside the drawing take. */
static double heights_width(ks_scene *scene, const ks_facts *facts)
{
    const double leader = 12, least = 24;
    const char *lid = facts->from_front ? ks_tr("roof") : ks_tr("lid");
    const char *top =
        ks_arena_print(scene->arena, "%s  %s",
                       ks_say_bare(facts->display, facts->load->height_mm, scene->arena), lid);
    double width = fmax(least - leader, ks_scene_measure(scene, KS_LOOK_TEXT, KS_SMALL, top));
    for (int i = 0; i < facts->n_levels; i++) {
        const ks_level_facts *level = &facts->levels[i];
        const char *height = ks_say_bare(facts->display, level->level->z_mm, scene->arena);
        const char *words = ks_arena_print(scene->arena, "%s  %s", height, level->code);
        width = fmax(width, ks_scene_measure(scene, KS_LOOK_STRONG, KS_SMALL, words));
    }
    return leader + width;
}

double ks_overview_side(ks_flow *flow, double x0, double x1, double y)
{
    const double wall = 4, most = 95, below = 11, least = 40; /* paper mm */
    const ks_facts *facts = flow->facts;
    ks_side s = ks_side_begin(flow->scene, facts);
    double heights = heights_width(flow->scene, facts);
    double height = facts->load->height_mm > 0 ? facts->load->height_mm : 1;
    s.plain = true;
    s.scale = fmin((x1 - x0 - heights - 2 * wall) / s.width_mm, (most - 2 * wall) / height);
    s.x0 = x0 + wall + fmax(0, (least - s.width_mm * s.scale) / 2);
    s.y0 = y + wall + height * s.scale;
    double right = s.x0 + s.width_mm * s.scale;
    ks_side_things(&s);
    ks_side_heights(&s, right, x1, y + 3);
    ks_side_names(&s, right);
    return s.y0 + below;
}
