/* A large form in its kiln: plan and elevation to one scale, with its distances from the walls and
 * the lid. */
#include "draw/sheets/flow.h"

#include <math.h>

typedef struct {
    ks_flow *flow;
    const ks_load *load;
    const ks_item *item;
    const ks_level *level;
    ks_box extent;  /* of the chamber */
    ks_view view;   /* of the plan */
    double floor_y; /* of the elevation, on paper */
} room;

/* From a point of the piece straight to the wall. */
typedef struct {
    ks_point from, to; /* chamber axes */
    double mm;
} gap;

static const struct {
    ks_point way;
    const char *name;
} ways[] = {{{-1, 0}, KS_WORDS("on its left")},
            {{1, 0}, KS_WORDS("on its right")},
            {{0, 1}, KS_WORDS("behind it")},
            {{0, -1}, KS_WORDS("in front of it")}};

static const double pitch = 4.4; /* of lines of words */

static ks_point farthest(const ks_outline *outline, ks_point way)
{
    ks_point best = outline->at[0];
    for (int i = 1; i < outline->n; i++)
        if (outline->at[i].x * way.x + outline->at[i].y * way.y > best.x * way.x + best.y * way.y)
            best = outline->at[i];
    return (ks_point){best.x + way.x * outline->round, best.y + way.y * outline->round};
}

/* Halved until it is known to a hundredth of a millimetre; 0 for a point that is outside. */
static double to_wall(const ks_outline *wall, ks_point from, ks_point way)
{
    double inside = 0, outside = 10000;
    while (outside - inside > 0.01) {
        double middle = (inside + outside) / 2;
        ks_point p = {from.x + way.x * middle, from.y + way.y * middle};
        if (ks_outline_from_point(wall, p) <= 0)
            inside = middle;
        else
            outside = middle;
    }
    return inside;
}

static gap gap_towards(const room *r, ks_point way)
{
    gap least = {.mm = INFINITY};
    double z = r->level->z_mm;
    for (int i = 0; i < r->item->placed->n_parts; i++) {
        const ks_part *part = &r->item->placed->parts[i];
        ks_point from = farthest(&part->outline, way);
        for (int w = 0; w < r->load->n_parts; w++) {
            const ks_chamber_part *wall = &r->load->parts[w];
            if (wall->to_mm <= z + part->from_mm || wall->from_mm >= z + part->to_mm)
                continue;
            double mm = to_wall(&wall->outline, from, way);
            if (mm < least.mm)
                least = (gap){from, {from.x + way.x * mm, from.y + way.y * mm}, mm};
        }
    }
    return least;
}

static void shape(const room *r, ks_look look, const ks_outline *outline)
{
    ks_scene_shape(r->flow->scene, look,
                   ks_trace_outline(r->flow->sheets->arena, r->view, outline));
}

static bool is_form(const ks_part *part)
{
    return part->kind == KS_PART_BODY || part->kind == KS_PART_FOOT;
}

/* Beside the plan, at the right. */
static double margin_x(const room *r)
{
    return r->view.origin.x + r->extent.x1 * r->view.scale + 4;
}

/* The figures stand beside the plan: within it they would cross its lines. */
static void tell_walls(const room *r)
{
    ks_arena *arena = r->flow->sheets->arena;
    double x = margin_x(r) + 2.4, y = r->view.origin.y - r->extent.y1 * r->view.scale;
    ks_scene_words(r->flow->scene, KS_LOOK_TEXT, (ks_point){x, y += pitch}, KS_LEFT, KS_SMALL,
                   ks_tr("From it to the wall:"));
    for (int w = 0; w < 4; w++) {
        gap g = gap_towards(r, ways[w].way);
        if (!isfinite(g.mm))
            continue;
        ks_dimension_line(r->flow->scene, ks_view_point(r->view, g.from),
                          ks_view_point(r->view, g.to));
        ks_scene_fitted(r->flow->scene, KS_LOOK_TEXT, (ks_point){x, y += pitch}, KS_LEFT, KS_SMALL,
                        ks_arena_print(arena, "%s %s",
                                       ks_say_both(r->flow->facts->display, g.mm, arena),
                                       ks_tr(ways[w].name)),
                        KS_SHEET_RIGHT - x);
    }
}

static void seen_from_above(const room *r)
{
    const ks_placed *placed = r->item->placed;
    shape(r, KS_LOOK_CHAMBER, &r->load->parts[0].outline);
    for (int s = 0; s < r->level->n_shelves; s++)
        shape(r, KS_LOOK_SHELF, &r->level->shelves[s].outline);
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < placed->n_parts; i++)
            if (is_form(&placed->parts[i]))
                shape(r, pass ? KS_LOOK_BODY : KS_LOOK_BODY_EDGE, &placed->parts[i].outline);
    for (int i = 0; i < placed->n_parts; i++)
        if (!is_form(&placed->parts[i]) && placed->parts[i].kind != KS_PART_GROG)
            shape(r, KS_LOOK_SETTER, &placed->parts[i].outline);
    tell_walls(r);
}

static void box_seen(const room *r, ks_look look, const ks_outline *outline, double from_mm,
                     double to_mm)
{
    ks_box seen = ks_extent(outline);
    double scale = r->view.scale;
    ks_scene_box(r->flow->scene, look,
                 (ks_box){r->view.origin.x + seen.x0 * scale, r->floor_y - to_mm * scale,
                          r->view.origin.x + seen.x1 * scale, r->floor_y - from_mm * scale});
}

/* A height with its words, which stay over those told before: `*last` is where these stand. */
static void tell_height(const room *r, double from_mm, double to_mm, const char *what, double *last)
{
    ks_arena *arena = r->flow->sheets->arena;
    double x = margin_x(r), scale = r->view.scale;
    double middle = r->floor_y - (from_mm + to_mm) / 2 * scale;
    if (to_mm - from_mm < 0.5)
        return;
    ks_dimension_line(r->flow->scene, (ks_point){x, r->floor_y - from_mm * scale},
                      (ks_point){x, r->floor_y - to_mm * scale});
    *last = fmin(middle + 1.2, *last - pitch);
    ks_scene_fitted(r->flow->scene, KS_LOOK_TEXT, (ks_point){x + 2.4, *last}, KS_LEFT, KS_SMALL,
                    ks_arena_print(arena, "%s %s",
                                   ks_say_both(r->flow->facts->display, to_mm - from_mm, arena),
                                   what),
                    KS_SHEET_RIGHT - x - 2.4);
}

static void seen_from_the_front(const room *r)
{
    double z = r->level->z_mm, top = z + r->item->placed->top_mm;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < r->load->n_parts; i++) {
            const ks_chamber_part *part = &r->load->parts[i];
            box_seen(r, pass ? KS_LOOK_BODY : KS_LOOK_BODY_EDGE, &part->outline, part->from_mm,
                     fmin(part->to_mm, r->load->height_mm));
        }
    for (int i = 0; i < r->load->n_posts; i++)
        if (r->load->posts[i].to_mm <= z)
            box_seen(r, KS_LOOK_POST_FAINT, &r->load->posts[i].outline, r->load->posts[i].from_mm,
                     r->load->posts[i].to_mm);
    for (int s = 0; s < r->level->n_shelves; s++)
        box_seen(r, KS_LOOK_SHELF, &r->level->shelves[s].outline,
                 z - r->level->shelves[s].thickness_mm, z);
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < r->item->placed->n_parts; i++) {
            const ks_part *part = &r->item->placed->parts[i];
            ks_look form = pass ? KS_LOOK_BODY : KS_LOOK_BODY_EDGE;
            if (is_form(part) || pass)
                box_seen(r, is_form(part) ? form : KS_LOOK_BLANK, &part->outline, z + part->from_mm,
                         z + part->to_mm);
        }
    double last = r->floor_y + pitch;
    tell_height(r, 0, z, ks_tr("to the shelf's top"), &last);
    tell_height(r, z, top, ks_tr("with all it stands on"), &last);
    tell_height(r, top, z + r->level->gap_mm, ks_tr("free above it"), &last);
}

static void room_sheet(ks_sheets *sheets, const ks_facts *facts, const ks_item *item)
{
    ks_arena *arena = sheets->arena;
    ks_heading heading = {
        ks_arena_print(arena, "room-%d", item->number),
        ks_arena_print(arena, "%s: %s in its kiln", item->full_mark, item->name),
        ks_arena_print(arena, "%s · turned %.1f° · from above, and from the front below",
                       facts->levels[item->level].name, item->placed->stand.turn_deg),
        ks_tr("Form in its kiln")};
    ks_flow flow = ks_flow_begin(sheets, facts, heading);
    room r = {.flow = &flow, .load = facts->load, .item = item, .extent = facts->extent};
    r.level = facts->levels[item->level].level;
    double w = r.extent.x1 - r.extent.x0, d = r.extent.y1 - r.extent.y0;
    double h = r.load->height_mm;
    int under = ks_scale_under(w, d + h, 110, 172);
    r.view.scale = 1.0 / under;
    r.view.origin = (ks_point){KS_SHEET_LEFT + 4 - r.extent.x0 * r.view.scale,
                               flow.y + 2 + r.extent.y1 * r.view.scale};
    r.floor_y = flow.y + 8 + (d + h) * r.view.scale;
    ks_scene_tag(flow.scene, KS_TAG_FIGURE);
    seen_from_above(&r);
    seen_from_the_front(&r);
    ks_scene_tag(flow.scene, KS_TAG_PARAGRAPH);
    ks_scale_bar(flow.scene, r.floor_y + 5, under);
}

void ks_room_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    for (int i = 0; i < facts->n_items; i++)
        if (facts->items[i].piece && facts->items[i].placed->n_parts > 0 &&
            (facts->items[i].piece->has_setter || facts->n_ware == 1))
            room_sheet(sheets, facts, &facts->items[i]);
}
