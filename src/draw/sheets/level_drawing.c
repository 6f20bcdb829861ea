#include "draw/sheets/level_drawing.h"

#include <math.h>
#include <string.h>

#define WALL_MM                                                                                    \
    4.0 /* thickness of the wall on paper; its real one does not matter to the loader              \
         */

/* The chamber where the level's ware is: its narrowest part between shelf and top. */
static const ks_outline *chamber_of(const ks_level_drawing *d)
{
    const ks_load *load = d->facts->load;
    const ks_outline *found = NULL;
    for (int i = 0; i < load->n_parts; i++) {
        const ks_chamber_part *part = &load->parts[i];
        bool meets = part->from_mm < d->high_mm && part->to_mm > d->low_mm;
        if (meets && (!found || ks_outline_area(&part->outline) < ks_outline_area(found)))
            found = &part->outline;
    }
    return found ? found : load->n_parts > 0 ? &load->parts[0].outline : NULL;
}

static ks_path trace(const ks_level_drawing *d, const ks_outline *shape)
{
    return ks_trace_outline(d->arena, d->view, shape);
}

static ks_polygon flat(const ks_level_drawing *d, const ks_outline *shape)
{
    ks_path path = trace(d, shape);
    return ks_flat(d->arena, &path);
}

static void draw_chamber(ks_level_drawing *d)
{
    const ks_outline *chamber = chamber_of(d);
    if (!chamber)
        return;
    ks_outline outer = {chamber->n, chamber->at, chamber->round + WALL_MM / d->view.scale};
    ks_scene_shape(d->scene, KS_LOOK_WALL, trace(d, &outer));
    ks_scene_shape(d->scene, KS_LOOK_CHAMBER, trace(d, chamber));
    d->field.wall[0] = flat(d, chamber);
    d->field.wall[1] = flat(d, &outer);
}

static void draw_limit(ks_level_drawing *d)
{
    const ks_outline *chamber = chamber_of(d);
    double wall_mm = d->facts->load->clearance.wall;
    if (!chamber || !(wall_mm > 0))
        return;
    ks_outline limit = ks_inset(d->arena, chamber, wall_mm);
    ks_scene_shape(d->scene, KS_LOOK_LIMIT, trace(d, &limit));
}

static bool shares_bay(const ks_level_drawing *d, const ks_level *other)
{
    for (int i = 0; i < d->shown->n_levels; i++)
        if (strcmp(d->shown->levels[i]->level->bay, other->bay) == 0)
            return true;
    return false;
}

/* Shelves of other bays whose ware stands at these heights, faint. */
static void draw_neighbours(ks_level_drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_levels; i++) {
        const ks_level *other = &load->levels[i];
        bool beside = !shares_bay(d, other) && other->z_mm < d->high_mm &&
                      other->z_mm + other->gap_mm > d->low_mm;
        for (int k = 0; beside && k < other->n_shelves; k++)
            ks_scene_shape(d->scene, KS_LOOK_SHELF_FAINT, trace(d, &other->shelves[k].outline));
    }
}

static void draw_shelves(ks_level_drawing *d)
{
    int n = 0;
    for (int i = 0; i < d->shown->n_levels; i++)
        n += d->shown->levels[i]->level->n_shelves;
    ks_polygon *edges = KS_TAKE(d->arena, n, ks_polygon);
    for (int i = 0; i < d->shown->n_levels; i++) {
        const ks_level *level = d->shown->levels[i]->level;
        for (int k = 0; k < level->n_shelves; k++) {
            ks_scene_shape(d->scene, KS_LOOK_SHELF, trace(d, &level->shelves[k].outline));
            edges[d->field.n_edges++] = flat(d, &level->shelves[k].outline);
        }
    }
    d->field.edges = edges;
}

static bool carries(const ks_level_drawing *d, const ks_post *post)
{
    for (int i = 0; i < d->shown->n_levels; i++)
        if (ks_post_carries(d->shown->levels[i]->level, post))
            return true;
    return false;
}

static void draw_furniture(ks_level_drawing *d)
{
    const ks_load *load = d->facts->load;
    draw_neighbours(d);
    draw_shelves(d);
    for (int i = 0; i < load->n_posts; i++)
        if (carries(d, &load->posts[i]))
            ks_scene_shape(d->scene, KS_LOOK_POST_FAINT, trace(d, &load->posts[i].outline));
}

bool ks_level_has_keep_out(const ks_level_drawing *d, const ks_keep_out *keep)
{
    return keep->from_mm < d->high_mm && keep->to_mm > d->low_mm;
}

bool ks_level_has_post(const ks_level_drawing *d, const ks_post *post)
{
    for (int i = 0; i < d->shown->n_levels; i++)
        if (ks_post_stands_on(d->shown->levels[i]->level, post))
            return true;
    return false;
}

static void draw_keep_outs(ks_level_drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_keep_outs; i++) {
        const ks_keep_out *keep = &load->keep_outs[i];
        if (!ks_level_has_keep_out(d, keep))
            continue;
        ks_outline around = keep->outline;
        around.round += keep->clearance_mm;
        ks_scene_shape(d->scene, KS_LOOK_LIMIT, trace(d, &around));
        ks_polygon shape = flat(d, &keep->outline);
        ks_hatch(d->scene, &shape, 3);
        ks_scene_shape(d->scene, KS_LOOK_KEEP_OUT, trace(d, &keep->outline));
        ks_block_add(&d->field, shape, d->facts->n_items + load->n_posts + i, false);
    }
}

static void draw_posts(ks_level_drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_posts; i++)
        if (ks_level_has_post(d, &load->posts[i])) {
            ks_scene_shape(d->scene, KS_LOOK_POST, trace(d, &load->posts[i].outline));
            ks_block_add(&d->field, flat(d, &load->posts[i].outline), d->facts->n_items + i, false);
        }
}

static bool is_setter(ks_part_kind kind)
{
    return kind == KS_PART_SLAB || kind == KS_PART_COOKIE || kind == KS_PART_STILT ||
           kind == KS_PART_PROP;
}

static bool is_body(ks_part_kind kind)
{
    return kind == KS_PART_BODY || kind == KS_PART_FOOT;
}

const ks_part *ks_level_largest(const ks_placed *placed)
{
    const ks_part *largest = NULL;
    double most = -1;
    for (int i = 0; i < placed->n_parts; i++) {
        const ks_part *part = &placed->parts[i];
        bool body = is_body(part->kind);
        double area = ks_outline_area(&part->outline) * (body ? 1 : 1e-9);
        if (area > most) {
            most = area;
            largest = part;
        }
    }
    return largest;
}

static bool hidden_in(const ks_part *part, const ks_part *largest)
{
    return part != largest && ks_outline_inside(&part->outline, &largest->outline) > -0.05;
}

static double lowest_mm(const ks_placed *placed)
{
    double lowest = INFINITY;
    for (int i = 0; i < placed->n_parts; i++)
        if (is_body(placed->parts[i].kind))
            lowest = fmin(lowest, placed->parts[i].from_mm);
    return lowest;
}

/* What the piece itself stands on, all its feet, where they are smaller than what is above. */
static void draw_feet(ks_level_drawing *d, const ks_placed *placed, const ks_part *largest)
{
    double at_mm = lowest_mm(placed) + 0.01, most = 0.97 * ks_outline_area(&largest->outline);
    for (int i = 0; i < placed->n_parts; i++) {
        const ks_part *part = &placed->parts[i];
        if (is_body(part->kind) && part->from_mm <= at_mm && ks_outline_area(&part->outline) < most)
            ks_scene_shape(d->scene, KS_LOOK_FOOT, trace(d, &part->outline));
    }
}

static const ks_part *rim_of(const ks_placed *placed, const ks_part *largest)
{
    for (int i = 0; i < placed->n_parts; i++) {
        const ks_part *part = &placed->parts[i];
        if (part->kind == KS_PART_BODY && part->to_mm >= placed->top_mm - 0.01 &&
            ks_outline_area(&part->outline) < 0.97 * ks_outline_area(&largest->outline))
            return part;
    }
    return NULL;
}

static bool in_part(const ks_level_drawing *d, const ks_item *item)
{
    ks_point at = ks_item_centre(item->placed);
    ks_box part = d->shown->part;
    return at.x >= part.x0 && at.x < part.x1 && at.y >= part.y0 && at.y < part.y1;
}

bool ks_level_pale(const ks_level_drawing *d, const ks_item *item)
{
    const char *only = d->shown->only;
    bool others = only && (item->owner < 0 || strcmp(d->facts->owners[item->owner].id, only) != 0);
    return others || !in_part(d, item);
}

static void draw_body(ks_level_drawing *d, const ks_item *item, const ks_part *largest, bool pale)
{
    const ks_placed *placed = item->placed;
    int fill = pale || item->owner < 0 ? 1 : d->facts->owners[item->owner].fill;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < placed->n_parts; i++) {
            const ks_part *part = &placed->parts[i];
            if (hidden_in(part, largest) || part->kind == KS_PART_GROG || is_setter(part->kind))
                continue;
            ks_look edge = pale ? KS_LOOK_BODY_PALE_EDGE : KS_LOOK_BODY_EDGE;
            ks_look body = pale ? KS_LOOK_BODY_PALE : KS_LOOK_BODY;
            ks_scene_fill(d->scene, pass == 0 ? edge : body, trace(d, &part->outline),
                          pass == 0 ? 0 : fill);
        }
}

static void draw_setter(ks_level_drawing *d, const ks_placed *placed)
{
    for (int i = 0; i < placed->n_parts; i++)
        if (is_setter(placed->parts[i].kind))
            ks_scene_shape(d->scene, KS_LOOK_SETTER, trace(d, &placed->parts[i].outline));
}

static void draw_piece(ks_level_drawing *d, const ks_item *item)
{
    const ks_part *largest = ks_level_largest(item->placed);
    if (!largest)
        return;
    bool pale = ks_level_pale(d, item);
    d->scene->piece = pale || item->owner < 0 ? 0 : item->number;
    draw_body(d, item, largest, pale);
    const ks_part *rim = rim_of(item->placed, largest);
    if (!pale) {
        if (item->owner >= 0) {
            ks_polygon shape = flat(d, &largest->outline);
            ks_hatch(d->scene, &shape, d->facts->owners[item->owner].hatch);
        }
        draw_setter(d, item->placed);
        if (rim)
            ks_scene_shape(d->scene, KS_LOOK_RIM, trace(d, &rim->outline));
        draw_feet(d, item->placed, largest);
    }
    d->scene->piece = 0;
    int thing = item->base;
    for (int i = 0; i < item->placed->n_parts; i++)
        if (!hidden_in(&item->placed->parts[i], largest))
            ks_block_add(&d->field, flat(d, &item->placed->parts[i].outline), thing,
                         is_body(item->placed->parts[i].kind));
}

/* Low pieces first, so that what reaches over them is seen. */
static void draw_pieces(ks_level_drawing *d)
{
    const ks_item **items = KS_TAKE(d->arena, d->n_items, const ks_item *);
    for (int i = 0; i < d->n_items; i++) {
        int at = i;
        for (; at > 0 && items[at - 1]->placed->top_mm > d->items[i]->placed->top_mm; at--)
            items[at] = items[at - 1];
        items[at] = d->items[i];
    }
    for (int i = 0; i < d->n_items; i++)
        draw_piece(d, items[i]);
}

/* The heights that the levels take up, and all their pieces. */
static void gather(ks_level_drawing *d)
{
    int n = 0;
    for (int i = 0; i < d->shown->n_levels; i++) {
        const ks_level *level = d->shown->levels[i]->level;
        d->low_mm = i == 0 ? level->z_mm : fmin(d->low_mm, level->z_mm);
        d->high_mm = fmax(i == 0 ? d->low_mm : d->high_mm, level->z_mm + fmax(level->gap_mm, 1));
        n += d->shown->levels[i]->n_items;
    }
    d->items = KS_TAKE(d->arena, n, const ks_item *);
    for (int i = 0; i < d->shown->n_levels; i++)
        for (int k = 0; k < d->shown->levels[i]->n_items; k++)
            d->items[d->n_items++] = d->shown->levels[i]->items[k];
}

ks_numbers ks_level_draw(ks_scene *scene, const ks_level_shown *shown, ks_view view, ks_box space)
{
    ks_level_drawing d = {.scene = scene,
                          .arena = scene->arena,
                          .shown = shown,
                          .facts = shown->facts,
                          .view = view,
                          .field = {.scene = scene, .space = space}};
    gather(&d);
    ks_scene_tag(scene, KS_TAG_FIGURE);
    scene->clipping = isfinite(shown->part.x0);
    scene->clip = space;
    draw_chamber(&d);
    draw_furniture(&d);
    draw_limit(&d);
    draw_pieces(&d);
    draw_posts(&d);
    draw_keep_outs(&d);
    scene->clipping = false;
    ks_numbers numbers = ks_level_label(&d);
    ks_scene_tag(scene, KS_TAG_PARAGRAPH);
    return numbers;
}
