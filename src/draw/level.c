#include "draw/label.h"
#include "draw/sheets.h"

#include <math.h>
#include <string.h>

#define WALL_MM                                                                                    \
    4.0 /* thickness of the wall on paper; its real one does not matter to the loader              \
         */

enum { NO_THING = -1 };

typedef struct {
    ks_scene *scene;
    ks_arena *arena;
    const ks_level_shown *shown;
    const ks_facts *facts;
    const ks_level *level;
    ks_view view;
    ks_label_field field;
} drawing;

/* The chamber where the level's ware is: its narrowest part between shelf and top. */
static const ks_outline *chamber_of(const drawing *d)
{
    const ks_load *load = d->facts->load;
    const ks_outline *found = NULL;
    double low = d->level->z_mm, high = low + fmax(d->level->gap_mm, 1);
    for (int i = 0; i < load->n_parts; i++) {
        const ks_chamber_part *part = &load->parts[i];
        bool meets = part->from_mm < high && part->to_mm > low;
        if (meets && (!found || ks_outline_area(&part->outline) < ks_outline_area(found)))
            found = &part->outline;
    }
    return found ? found : load->n_parts > 0 ? &load->parts[0].outline : NULL;
}

static ks_path traced(const drawing *d, const ks_outline *shape)
{
    return ks_traced(d->arena, d->view, shape);
}

static ks_polygon flat(const drawing *d, const ks_outline *shape)
{
    ks_path path = traced(d, shape);
    return ks_flat(d->arena, &path);
}

static void chamber_drawn(drawing *d)
{
    const ks_outline *chamber = chamber_of(d);
    if (!chamber)
        return;
    ks_outline outer = {chamber->n, chamber->at, chamber->round + WALL_MM / d->view.scale};
    ks_scene_shape(d->scene, KS_LOOK_WALL, traced(d, &outer));
    ks_scene_shape(d->scene, KS_LOOK_CHAMBER, traced(d, chamber));
    d->field.wall[0] = flat(d, chamber);
    d->field.wall[1] = flat(d, &outer);
}

static void limit_drawn(drawing *d)
{
    const ks_outline *chamber = chamber_of(d);
    double wall_mm = d->facts->load->clearance.wall;
    if (!chamber || !(wall_mm > 0))
        return;
    ks_outline limit = ks_inset(d->arena, chamber, wall_mm);
    ks_scene_shape(d->scene, KS_LOOK_LIMIT, traced(d, &limit));
}

/* Shelves of other bays whose ware stands at these heights, faint. */
static void neighbours_drawn(drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_levels; i++) {
        const ks_level *other = &load->levels[i];
        bool beside = other != d->level && strcmp(other->bay, d->level->bay) != 0 &&
                      other->z_mm < d->level->z_mm + d->level->gap_mm &&
                      other->z_mm + other->gap_mm > d->level->z_mm;
        for (int k = 0; beside && k < other->n_shelves; k++)
            ks_scene_shape(d->scene, KS_LOOK_SHELF_FAINT, traced(d, &other->shelves[k].outline));
    }
}

static void furniture_drawn(drawing *d)
{
    const ks_load *load = d->facts->load;
    ks_polygon *edges = KS_TAKE(d->arena, d->level->n_shelves, ks_polygon);
    neighbours_drawn(d);
    for (int i = 0; i < d->level->n_shelves; i++) {
        ks_scene_shape(d->scene, KS_LOOK_SHELF, traced(d, &d->level->shelves[i].outline));
        edges[d->field.n_edges++] = flat(d, &d->level->shelves[i].outline);
    }
    d->field.edges = edges;
    for (int i = 0; i < load->n_posts; i++)
        if (ks_post_carries(d->level, &load->posts[i]))
            ks_scene_shape(d->scene, KS_LOOK_POST_FAINT, traced(d, &load->posts[i].outline));
}

static bool keep_out_meets(const ks_keep_out *keep, const ks_level *level)
{
    return keep->from_mm < level->z_mm + level->gap_mm && keep->to_mm > level->z_mm;
}

static void keep_outs_drawn(drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_keep_outs; i++) {
        const ks_keep_out *keep = &load->keep_outs[i];
        if (!keep_out_meets(keep, d->level))
            continue;
        ks_outline around = keep->outline;
        around.round += keep->clearance_mm;
        ks_scene_shape(d->scene, KS_LOOK_LIMIT, traced(d, &around));
        ks_polygon shape = flat(d, &keep->outline);
        ks_hatch(d->scene, &shape, 3);
        ks_scene_shape(d->scene, KS_LOOK_KEEP_OUT, traced(d, &keep->outline));
        ks_block_add(&d->field, shape, d->facts->n_items + load->n_posts + i, false);
    }
}

static void posts_drawn(drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_posts; i++)
        if (ks_post_stands_on(d->level, &load->posts[i])) {
            ks_scene_shape(d->scene, KS_LOOK_POST, traced(d, &load->posts[i].outline));
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

static const ks_part *largest_part(const ks_placed *placed)
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

/* The lowest part of the piece itself, where it is smaller than what is above it. */
static const ks_part *foot_of(const ks_placed *placed, const ks_part *largest)
{
    const ks_part *foot = NULL;
    for (int i = 0; i < placed->n_parts; i++) {
        const ks_part *part = &placed->parts[i];
        bool body = is_body(part->kind);
        if (body && (!foot || part->from_mm < foot->from_mm))
            foot = part;
    }
    bool smaller =
        foot && ks_outline_area(&foot->outline) < 0.97 * ks_outline_area(&largest->outline);
    return smaller ? foot : NULL;
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

static bool in_part(const drawing *d, const ks_item *item)
{
    ks_point at = ks_item_centre(item->placed);
    ks_box part = d->shown->part;
    return at.x >= part.x0 && at.x < part.x1 && at.y >= part.y0 && at.y < part.y1;
}

static bool is_pale(const drawing *d, const ks_item *item)
{
    const char *only = d->shown->only;
    bool others = only && (item->owner < 0 || strcmp(d->facts->owners[item->owner].id, only) != 0);
    return others || !in_part(d, item);
}

static void body_drawn(drawing *d, const ks_item *item, const ks_part *largest, bool pale)
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
            ks_scene_filled(d->scene, pass == 0 ? edge : body, traced(d, &part->outline),
                            pass == 0 ? 0 : fill);
        }
}

static void setter_drawn(drawing *d, const ks_placed *placed)
{
    for (int i = 0; i < placed->n_parts; i++)
        if (is_setter(placed->parts[i].kind))
            ks_scene_shape(d->scene, KS_LOOK_SETTER, traced(d, &placed->parts[i].outline));
}

static void piece_drawn(drawing *d, const ks_item *item)
{
    const ks_part *largest = largest_part(item->placed);
    if (!largest)
        return;
    bool pale = is_pale(d, item);
    d->scene->piece = pale || item->owner < 0 ? 0 : item->number;
    body_drawn(d, item, largest, pale);
    const ks_part *foot = foot_of(item->placed, largest), *rim = rim_of(item->placed, largest);
    if (!pale) {
        if (item->owner >= 0) {
            ks_polygon shape = flat(d, &largest->outline);
            ks_hatch(d->scene, &shape, d->facts->owners[item->owner].hatch);
        }
        setter_drawn(d, item->placed);
        if (rim)
            ks_scene_shape(d->scene, KS_LOOK_RIM, traced(d, &rim->outline));
        if (foot)
            ks_scene_shape(d->scene, KS_LOOK_FOOT, traced(d, &foot->outline));
    }
    d->scene->piece = 0;
    int thing = (int)(item - d->facts->items);
    for (int i = 0; i < item->placed->n_parts; i++)
        if (!hidden_in(&item->placed->parts[i], largest))
            ks_block_add(&d->field, flat(d, &item->placed->parts[i].outline), thing,
                         is_body(item->placed->parts[i].kind));
}

/* Low pieces first, so that what reaches over them is seen. */
static void pieces_drawn(drawing *d)
{
    const ks_level_facts *level = d->shown->level;
    const ks_item **items = KS_TAKE(d->arena, level->n_items, const ks_item *);
    for (int i = 0; i < level->n_items; i++) {
        int at = i;
        for (; at > 0 && items[at - 1]->placed->top_mm > level->items[i]->placed->top_mm; at--)
            items[at] = items[at - 1];
        items[at] = level->items[i];
    }
    for (int i = 0; i < level->n_items; i++)
        piece_drawn(d, items[i]);
}

/* The outline's middle on the sheet; of one so hollow that its middle is outside, the nearest point
 * that is well within. */
static ks_point well_inside(const drawing *d, const ks_outline *outline)
{
    const double step = 0.5, margin = 1.5;
    ks_polygon shape = flat(d, outline);
    ks_point middle = ks_view_point(d->view, ks_outline_centroid(outline)), best = middle;
    ks_box box = ks_polygon_box(&shape);
    double least = INFINITY;
    if (ks_point_within(middle, &shape))
        return middle;
    for (double y = box.y0; y < box.y1; y += step)
        for (double x = box.x0; x < box.x1; x += step) {
            double off = hypot(x - middle.x, y - middle.y);
            if (off < least &&
                ks_box_within((ks_box){x - margin, y - margin, x + margin, y + margin}, &shape)) {
                least = off;
                best = (ks_point){x, y};
            }
        }
    return best;
}

static ks_label piece_label(const drawing *d, const ks_item *item)
{
    const ks_owner *owner = item->owner >= 0 ? &d->facts->owners[item->owner] : NULL;
    const char *height = ks_say_bare(d->facts->display, item->placed->top_mm, d->arena);
    if (owner && d->facts->n_owners > 1)
        height = ks_arena_print(d->arena, "%s %s", owner->letter, height);
    const ks_part *largest = largest_part(item->placed);
    ks_point middle = largest ? well_inside(d, &largest->outline)
                              : ks_view_point(d->view, ks_item_centre(item->placed));
    return (ks_label){.text = {item->mark, d->shown->few_words ? NULL : height},
                      .cap_mm = {KS_LARGE, KS_SMALL},
                      .look = {KS_LOOK_NUMBER, KS_LOOK_TEXT},
                      .anchor = middle,
                      .thing = (int)(item - d->facts->items)};
}

static void labels_inside(drawing *d, ks_label *labels)
{
    const ks_level_facts *level = d->shown->level;
    for (int i = 0; i < level->n_items; i++) {
        if (is_pale(d, level->items[i]))
            continue;
        labels[i] = piece_label(d, level->items[i]);
        if (ks_label_inside(&d->field, &labels[i]))
            continue;
        const char *second = labels[i].text[1];
        labels[i].text[1] = NULL;
        if (second && ks_label_inside(&d->field, &labels[i]))
            continue;
        labels[i].text[1] = second;
    }
}

static bool beside_if_need_be_alone(drawing *d, ks_label *label)
{
    if (ks_label_beside(&d->field, label))
        return true;
    label->text[1] = NULL;
    return ks_label_beside(&d->field, label);
}

static ks_numbers labels_beside(drawing *d, ks_label *labels)
{
    const ks_level_facts *level = d->shown->level;
    ks_numbers numbers = {0, 0};
    for (int i = 0; i < level->n_items; i++) {
        if (!labels[i].text[0] || labels[i].placed)
            continue;
        if (numbers.led < d->shown->leaders && beside_if_need_be_alone(d, &labels[i]))
            numbers.led++;
        else
            numbers.lost++;
    }
    return numbers;
}

static bool in_space(const drawing *d, ks_point at)
{
    ks_point p = ks_view_point(d->view, at);
    ks_box space = d->field.space;
    return p.x > space.x0 && p.x < space.x1 && p.y > space.y0 && p.y < space.y1;
}

static void words_beside(drawing *d, ks_point at, const char *words, ks_look look)
{
    if (!in_space(d, at))
        return;
    ks_label label = {.text = {words, NULL},
                      .cap_mm = {KS_SMALL, 0},
                      .look = {look, look},
                      .anchor = ks_view_point(d->view, at),
                      .thing = NO_THING};
    if (ks_label_beside(&d->field, &label))
        ks_label_drawn(&d->field, &label, -1);
}

static ks_point middle_of(const ks_outline *shape)
{
    ks_box box = ks_extent(shape);
    return (ks_point){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
}

/* Two of a kind over each other (sensors at two heights) have one name. */
static bool named_before(const drawing *d, int nth)
{
    const ks_keep_out *keep = &d->facts->load->keep_outs[nth];
    ks_point at = middle_of(&keep->outline);
    for (int i = 0; i < nth; i++) {
        const ks_keep_out *other = &d->facts->load->keep_outs[i];
        ks_point there = middle_of(&other->outline);
        if (keep_out_meets(other, d->level) && strcmp(other->kind, keep->kind) == 0 &&
            hypot(at.x - there.x, at.y - there.y) < 20)
            return true;
    }
    return false;
}

static void furniture_named(drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_posts; i++)
        if (ks_post_stands_on(d->level, &load->posts[i]))
            words_beside(d, middle_of(&load->posts[i].outline),
                         ks_say_bare(d->facts->display,
                                     load->posts[i].to_mm - load->posts[i].from_mm, d->arena),
                         KS_LOOK_STRONG);
    for (int i = 0; i < load->n_keep_outs; i++)
        if (keep_out_meets(&load->keep_outs[i], d->level) && !named_before(d, i))
            words_beside(d, middle_of(&load->keep_outs[i].outline), load->keep_outs[i].kind,
                         KS_LOOK_TEXT);
}

static void arrow(ks_scene *scene, ks_point tip, ks_point along)
{
    const double length = 2.2, half = 0.7, tail = 4.5;
    ks_path head = {0};
    ks_point base = {tip.x - along.x * length, tip.y - along.y * length};
    ks_path_move(scene->arena, &head, tip);
    ks_path_line(scene->arena, &head, (ks_point){base.x - along.y * half, base.y + along.x * half});
    ks_path_line(scene->arena, &head, (ks_point){base.x + along.y * half, base.y - along.x * half});
    ks_path_close(scene->arena, &head);
    ks_scene_line(scene, KS_LOOK_SIZE, base,
                  (ks_point){tip.x - along.x * tail, tip.y - along.y * tail});
    ks_scene_shape(scene, KS_LOOK_ACCENT, head);
}

/* The tightest place: two arrows that point at each other over the gap. */
static void tightest_drawn(drawing *d)
{
    const ks_level_facts *level = d->shown->level;
    if (!isfinite(level->tight_mm) || !in_space(d, level->tight_a) || !in_space(d, level->tight_b))
        return;
    ks_point a = ks_view_point(d->view, level->tight_a), b = ks_view_point(d->view, level->tight_b);
    double length = hypot(b.x - a.x, b.y - a.y);
    ks_point along =
        length > 1e-6 ? (ks_point){(b.x - a.x) / length, (b.y - a.y) / length} : (ks_point){1, 0};
    arrow(d->scene, a, along);
    arrow(d->scene, b, (ks_point){-along.x, -along.y});
    ks_point middle = {(level->tight_a.x + level->tight_b.x) / 2,
                       (level->tight_a.y + level->tight_b.y) / 2};
    words_beside(d, middle, ks_say_tight(d->facts->display, level->tight_mm, d->arena),
                 KS_LOOK_TEXT);
}

static void sides_named(drawing *d, ks_box space)
{
    ks_box chamber = ks_polygon_box(&d->field.wall[1]);
    if (!(chamber.x1 > chamber.x0))
        chamber = space;
    double x = (fmax(chamber.x0, space.x0) + fmin(chamber.x1, space.x1)) / 2;
    const char *back = d->facts->from_front ? "BACK" : "HINGE";
    double under = fmin(chamber.y1 + 1.2, space.y1 - 7.6);
    bool at_edge = under >= chamber.y1; /* else the front is beyond what is shown */
    ks_box front = {x - 16, under, x + 16, under + 7.4};
    ks_scene_box(d->scene, KS_LOOK_SOLID, front);
    ks_scene_words(d->scene, KS_LOOK_INVERSE, (ks_point){x, front.y1 - 1.6}, KS_MIDDLE, 4.2,
                   at_edge ? "FRONT" : "↓ FRONT");
    ks_taken_add(&d->field, front);
    if (chamber.y0 - 7 < space.y0)
        return;
    double width = ks_scene_words(d->scene, KS_LOOK_STRONG, (ks_point){x, chamber.y0 - 1.8},
                                  KS_MIDDLE, KS_PLAIN, back);
    ks_taken_add(&d->field,
                 (ks_box){x - width / 2 - 1, chamber.y0 - 7, x + width / 2 + 1, chamber.y0});
}

ks_numbers ks_level_drawn(ks_scene *scene, const ks_level_shown *shown, ks_view view, ks_box space)
{
    drawing d = {.scene = scene,
                 .arena = scene->arena,
                 .shown = shown,
                 .facts = shown->facts,
                 .level = shown->level->level,
                 .view = view,
                 .field = {.scene = scene, .space = space}};
    scene->clipping = isfinite(shown->part.x0);
    scene->clip = space;
    chamber_drawn(&d);
    furniture_drawn(&d);
    limit_drawn(&d);
    pieces_drawn(&d);
    posts_drawn(&d);
    keep_outs_drawn(&d);
    scene->clipping = false;
    sides_named(&d, space);
    ks_label *labels = KS_TAKE(d.arena, shown->level->n_items, ks_label);
    labels_inside(&d, labels);
    ks_numbers numbers = labels_beside(&d, labels);
    for (int i = 0; i < shown->level->n_items; i++) {
        const ks_item *item = shown->level->items[i];
        int fill = item->owner >= 0 ? d.facts->owners[item->owner].fill : 1;
        scene->piece = item->owner >= 0 ? item->number : 0;
        ks_label_drawn(&d.field, &labels[i], labels[i].led ? -1 : fill);
        scene->piece = 0;
    }
    if (!shown->few_words) {
        furniture_named(&d);
        tightest_drawn(&d);
    }
    return numbers;
}
