#include "draw/sheets/overview.h"
#include "draw/sheets/side.h"

#include <math.h>

double ks_overview_side(ks_flow *flow, double x0, double x1, double y)
{
    const double wall = 4, most = 95, below = 11, least = 40; /* paper mm */
    const ks_facts *facts = flow->facts;
    ks_side s = ks_side_begin(flow->scene, facts);
    double heights = ks_side_heights_width(flow->scene, facts);
    double height = facts->load->height_mm > 0 ? facts->load->height_mm : 1;
    s.plain = true;
    s.scale = fmin((x1 - x0 - heights - 2 * wall) / s.width_mm, (most - 2 * wall) / height);
    s.x0 = x0 + wall + fmax(0, (least - s.width_mm * s.scale) / 2);
    s.y0 = y + wall + height * s.scale;
    double right = s.x0 + s.width_mm * s.scale;
    ks_scene_tag(flow->scene, KS_TAG_FIGURE);
    ks_side_things(&s);
    ks_side_heights(&s, right, x1, y + 3);
    ks_side_names(&s, right);
    ks_scene_tag(flow->scene, KS_TAG_PARAGRAPH);
    return s.y0 + below;
}
