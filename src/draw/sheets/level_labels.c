#include "draw/sheets/level_drawing.h"

#include <math.h>
#include <string.h>

enum { NO_THING = -1 };

static ks_polygon flat(const ks_level_drawing *d, const ks_outline *shape)
{
    ks_path path = ks_trace_outline(d->arena, d->view, shape);
    return ks_flat(d->arena, &path);
}

/* The outline's middle on the sheet; of one so hollow that its middle is outside, the nearest point
 * that is well within. */
static ks_point well_inside(const ks_level_drawing *d, const ks_outline *outline)
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

/* How high what stands there comes: a piece, or a stack of them. */
static double top_mm(const ks_level_drawing *d, const ks_item *item)
{
    double top = item->placed->top_mm;
    for (int i = 0; i < d->facts->n_items; i++)
        if (&d->facts->items[d->facts->items[i].base] == item)
            top = fmax(top, d->facts->items[i].placed->top_mm);
    return top;
}

static ks_label piece_label(const ks_level_drawing *d, const ks_item *item)
{
    const ks_owner *owner = item->owner >= 0 ? &d->facts->owners[item->owner] : NULL;
    const char *height = ks_say_bare(d->facts->display, top_mm(d, item), d->arena);
    if (owner && d->facts->n_owners > 1)
        height = ks_arena_print(d->arena, "%s %s", owner->mark, height);
    const ks_part *largest = ks_level_largest(item->placed);
    ks_point middle = largest ? well_inside(d, &largest->outline)
                              : ks_view_point(d->view, ks_item_centre(item->placed));
    return (ks_label){.text = {item->place_mark, d->shown->few_words ? NULL : height},
                      .cap_mm = {KS_LARGE, KS_SMALL},
                      .look = {KS_LOOK_NUMBER, KS_LOOK_TEXT},
                      .anchor = middle,
                      .thing = item->base};
}

/* With the words under its number; else the number alone; else a smaller number. */
static bool label_inside(ks_level_drawing *d, ks_label *label)
{
    if (ks_label_inside(&d->field, label))
        return true;
    ks_label whole = *label;
    label->text[1] = NULL;
    if (whole.text[1] && ks_label_inside(&d->field, label))
        return true;
    label->cap_mm[0] = KS_PLAIN;
    if (ks_label_inside(&d->field, label))
        return true;
    *label = whole;
    return false;
}

static void labels_inside(ks_level_drawing *d, ks_label *labels)
{
    for (int i = 0; i < d->n_items; i++) {
        if (ks_level_pale(d, d->items[i]) || d->items[i] != &d->facts->items[d->items[i]->base])
            continue;
        labels[i] = piece_label(d, d->items[i]);
        (void)label_inside(d, &labels[i]);
    }
}

static bool beside_if_need_be_alone(ks_level_drawing *d, ks_label *label)
{
    if (ks_label_beside(&d->field, label))
        return true;
    label->text[1] = NULL;
    return ks_label_beside(&d->field, label);
}

static ks_numbers labels_beside(ks_level_drawing *d, ks_label *labels)
{
    ks_numbers numbers = {0, 0};
    for (int i = 0; i < d->n_items; i++) {
        if (!labels[i].text[0] || labels[i].placed)
            continue;
        if (numbers.led < d->shown->leaders && beside_if_need_be_alone(d, &labels[i]))
            numbers.led++;
        else
            numbers.lost++;
    }
    return numbers;
}

static bool in_space(const ks_level_drawing *d, ks_point at)
{
    ks_point p = ks_view_point(d->view, at);
    ks_box space = d->field.space;
    return p.x > space.x0 && p.x < space.x1 && p.y > space.y0 && p.y < space.y1;
}

static void words_beside(ks_level_drawing *d, ks_point at, const char *words, ks_look look)
{
    if (!in_space(d, at))
        return;
    ks_label label = {.text = {words, NULL},
                      .cap_mm = {KS_SMALL, 0},
                      .look = {look, look},
                      .anchor = ks_view_point(d->view, at),
                      .thing = NO_THING};
    if (ks_label_beside(&d->field, &label))
        ks_label_draw(&d->field, &label, -1);
}

static ks_point middle_of(const ks_outline *shape)
{
    ks_box box = ks_extent(shape);
    return (ks_point){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
}

/* Two of a kind over each other (sensors at two heights) have one name. */
static bool named_before(const ks_level_drawing *d, int nth)
{
    const ks_keep_out *keep = &d->facts->load->keep_outs[nth];
    ks_point at = middle_of(&keep->outline);
    for (int i = 0; i < nth; i++) {
        const ks_keep_out *other = &d->facts->load->keep_outs[i];
        ks_point there = middle_of(&other->outline);
        if (ks_level_has_keep_out(d, other) && strcmp(other->kind, keep->kind) == 0 &&
            hypot(at.x - there.x, at.y - there.y) < 20)
            return true;
    }
    return false;
}

static void name_furniture(ks_level_drawing *d)
{
    const ks_load *load = d->facts->load;
    for (int i = 0; i < load->n_posts; i++)
        if (ks_level_has_post(d, &load->posts[i]))
            words_beside(d, middle_of(&load->posts[i].outline),
                         ks_say_bare(d->facts->display,
                                     load->posts[i].to_mm - load->posts[i].from_mm, d->arena),
                         KS_LOOK_STRONG);
    for (int i = 0; i < load->n_keep_outs; i++)
        if (ks_level_has_keep_out(d, &load->keep_outs[i]) && !named_before(d, i))
            words_beside(d, middle_of(&load->keep_outs[i].outline), ks_tr(load->keep_outs[i].kind),
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
static void draw_tightest(ks_level_drawing *d, const ks_level_facts *level)
{
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

static void name_sides(ks_level_drawing *d, ks_box space)
{
    ks_box chamber = ks_polygon_box(&d->field.wall[1]);
    if (!(chamber.x1 > chamber.x0))
        chamber = space;
    double x = (fmax(chamber.x0, space.x0) + fmin(chamber.x1, space.x1)) / 2;
    const char *back = d->facts->from_front ? ks_tr("BACK") : ks_tr("HINGE");
    double under = fmin(chamber.y1 + 1.2, space.y1 - 7.6);
    bool at_edge = under >= chamber.y1; /* else the front is beyond what is shown */
    ks_box front = {x - 16, under, x + 16, under + 7.4};
    ks_scene_box(d->scene, KS_LOOK_SOLID, front);
    ks_scene_words(d->scene, KS_LOOK_INVERSE, (ks_point){x, front.y1 - 1.6}, KS_MIDDLE, 4.2,
                   at_edge ? ks_tr("FRONT") : ks_tr("↓ FRONT"));
    ks_taken_add(&d->field, front);
    if (chamber.y0 - 7 < space.y0 - 0.01)
        return;
    double width = ks_scene_words(d->scene, KS_LOOK_STRONG, (ks_point){x, chamber.y0 - 1.8},
                                  KS_MIDDLE, KS_PLAIN, back);
    ks_taken_add(&d->field,
                 (ks_box){x - width / 2 - 1, chamber.y0 - 7, x + width / 2 + 1, chamber.y0});
}

/* Levels side by side have their names at the upper corners, over their own side; in bays one
 * behind another, at the corners of theirs. */
static void name_levels(ks_level_drawing *d, ks_box space)
{
    ks_box chamber = ks_polygon_box(&d->field.wall[1]);
    for (int i = 0; d->shown->n_levels > 1 && i < d->shown->n_levels; i++) {
        const ks_level_facts *of = d->shown->levels[i];
        ks_box shelves =
            of->level->n_shelves > 0 ? ks_extent(&of->level->shelves[0].outline) : d->facts->extent;
        ks_point middle = ks_view_point(
            d->view, (ks_point){(shelves.x0 + shelves.x1) / 2, (shelves.y0 + shelves.y1) / 2});
        bool right = middle.x > (chamber.x0 + chamber.x1) / 2 + 1;
        bool front = middle.y > (chamber.y0 + chamber.y1) / 2 + 1;
        double y = front && !right ? fmin(chamber.y1 + 5.5, space.y1 - 1) : chamber.y0 - 1.8;
        double x = right ? fmin(chamber.x1, space.x1) : fmax(chamber.x0, space.x0);
        double width = ks_scene_words(d->scene, KS_LOOK_STRONG, (ks_point){x, y},
                                      right ? KS_RIGHT : KS_LEFT, KS_PLAIN, of->bare_name);
        double x0 = right ? x - width : x;
        ks_taken_add(&d->field, (ks_box){x0 - 1, y - 5, x0 + width + 1, y + 1.5});
    }
}

/* Numbers inside their pieces, then those beside them, then everything else. */
ks_numbers ks_level_label(ks_level_drawing *d)
{
    name_sides(d, d->field.space);
    name_levels(d, d->field.space);
    ks_label *labels = KS_TAKE(d->arena, d->n_items, ks_label);
    labels_inside(d, labels);
    ks_numbers numbers = labels_beside(d, labels);
    for (int i = 0; i < d->n_items; i++) {
        const ks_item *item = d->items[i];
        int fill = item->owner >= 0 ? d->facts->owners[item->owner].fill : 1;
        d->scene->piece = item->owner >= 0 ? item->number : 0;
        ks_label_draw(&d->field, &labels[i], labels[i].led ? -1 : fill);
        d->scene->piece = 0;
    }
    if (!d->shown->few_words) {
        name_furniture(d);
        for (int i = 0; i < d->shown->n_levels; i++)
            draw_tightest(d, d->shown->levels[i]);
    }
    return numbers;
}
