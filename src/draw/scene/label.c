#include "draw/scene/label.h"

#include <math.h>

#define CLEAR_MM 0.4 /* around every label */

void ks_block_add(ks_label_field *field, ks_polygon shape, int thing, bool home)
{
    field->blocks =
        KS_GROW(field->scene->arena, field->blocks, field->n_blocks, &field->blocks_room, ks_block);
    field->blocks[field->n_blocks++] = (ks_block){shape, ks_polygon_box(&shape), thing, home};
}

void ks_taken_add(ks_label_field *field, ks_box box)
{
    field->taken =
        KS_GROW(field->scene->arena, field->taken, field->n_taken, &field->taken_room, ks_box);
    field->taken[field->n_taken++] = box;
}

typedef struct {
    double width, height;
} size;

static double line_height(ks_look look, double cap_mm)
{
    const double under_mm = 0.5; /* between a number and the line below it */
    double height = ks_words_above(look, cap_mm) + ks_words_below(look, cap_mm);
    return look == KS_LOOK_NUMBER ? height + under_mm : height;
}

static size size_of(ks_scene *scene, const ks_label *label)
{
    size found = {0, 0};
    for (int i = 0; i < 2 && label->text[i]; i++) {
        double width = ks_scene_measure(scene, label->look[i], label->cap_mm[i], label->text[i]);
        found.width = fmax(found.width, width);
        found.height += line_height(label->look[i], label->cap_mm[i]);
    }
    return (size){found.width + 2 * CLEAR_MM, found.height};
}

static ks_box box_about(ks_point at, size s)
{
    return (ks_box){at.x - s.width / 2, at.y - s.height / 2, at.x + s.width / 2,
                    at.y + s.height / 2};
}

static bool is_taken(const ks_label_field *field, ks_box box)
{
    for (int i = 0; i < field->n_taken; i++)
        if (ks_boxes_meet(box, field->taken[i]))
            return true;
    return false;
}

static bool is_blocked(const ks_label_field *field, ks_box box, int but)
{
    for (int i = 0; i < field->n_blocks; i++)
        if (field->blocks[i].thing != but && ks_boxes_meet(box, field->blocks[i].box) &&
            ks_box_meets(box, &field->blocks[i].shape))
            return true;
    return false;
}

static bool leader_is_under(const ks_label_field *field, ks_box box)
{
    for (int i = 0; i < field->n_leaders; i++)
        if (ks_segment_meets_box(field->leaders[i].from, field->leaders[i].to, box))
            return true;
    return false;
}

static bool crosses(ks_box box, const ks_polygon *line)
{
    return line->n > 0 && ks_box_meets(box, line) && !ks_box_within(box, line);
}

static bool crosses_wall(const ks_label_field *field, ks_box box)
{
    for (int i = 0; i < field->n_edges; i++)
        if (crosses(box, &field->edges[i]))
            return true;
    if (crosses(box, &field->wall[0]) || crosses(box, &field->wall[1]))
        return true;
    bool in_wall = field->wall[0].n > 0 && field->wall[1].n > 0 &&
                   ks_box_within(box, &field->wall[1]) && !ks_box_meets(box, &field->wall[0]);
    return in_wall;
}

static bool outside(ks_box space, ks_box box)
{
    return box.x0 < space.x0 || box.y0 < space.y0 || box.x1 > space.x1 || box.y1 > space.y1;
}

static void inside_one(ks_label_field *field, ks_label *label, const ks_block *home, size s,
                       double *best)
{
    const double step = 0.7;
    for (double y = home->box.y0 + s.height / 2; y <= home->box.y1 - s.height / 2 + 1e-9; y += step)
        for (double x = home->box.x0 + s.width / 2; x <= home->box.x1 - s.width / 2 + 1e-9;
             x += step) {
            double off = hypot(x - label->anchor.x, y - label->anchor.y);
            ks_box box = box_about((ks_point){x, y}, s);
            if (off >= *best || !ks_box_within(box, &home->shape) || outside(field->space, box) ||
                is_taken(field, box) || is_blocked(field, box, label->thing) ||
                leader_is_under(field, box))
                continue;
            *best = off;
            label->box = box;
            label->placed = true;
        }
}

bool ks_label_inside(ks_label_field *field, ks_label *label)
{
    size s = size_of(field->scene, label);
    double best = INFINITY;
    for (int i = 0; i < field->n_blocks; i++) {
        const ks_block *home = &field->blocks[i];
        ks_box centred = box_about(label->anchor, s);
        if (home->thing != label->thing || !home->home)
            continue;
        if (ks_box_within(centred, &home->shape) && !outside(field->space, centred) &&
            !is_taken(field, centred) && !is_blocked(field, centred, label->thing) &&
            !leader_is_under(field, centred)) {
            label->box = centred;
            label->placed = true;
            best = 0;
        }
        inside_one(field, label, home, s, &best);
    }
    if (label->placed)
        ks_taken_add(field, label->box);
    return label->placed;
}

static ks_point nearest_in(ks_box box, ks_point p)
{
    return (ks_point){fmax(box.x0, fmin(box.x1, p.x)), fmax(box.y0, fmin(box.y1, p.y))};
}

static bool leader_is_free(const ks_label_field *field, ks_point from, ks_point to)
{
    for (int i = 0; i < field->n_taken; i++)
        if (ks_segment_meets_box(from, to, field->taken[i]))
            return false;
    for (int i = 0; i < field->n_leaders; i++)
        if (ks_segments_cross(from, to, field->leaders[i].from, field->leaders[i].to))
            return false;
    return true;
}

/* Length, and more for each thing that the leader runs over. */
static double cost_of(const ks_label_field *field, ks_point from, ks_point to, int but)
{
    const double each_mm = 4;
    double cost = hypot(to.x - from.x, to.y - from.y);
    for (int i = 0; i < field->n_blocks; i++) {
        const ks_block *block = &field->blocks[i];
        if (block->thing != but && block->home && ks_segment_meets_box(from, to, block->box))
            cost += each_mm;
    }
    return cost;
}

static void try_beside(ks_label_field *field, ks_label *label, ks_box box, double *best)
{
    if (outside(field->space, box))
        return;
    ks_point tip = nearest_in(box, label->anchor);
    double length = hypot(tip.x - label->anchor.x, tip.y - label->anchor.y);
    if (length >= *best || is_taken(field, box) || leader_is_under(field, box) ||
        is_blocked(field, box, -1) || crosses_wall(field, box) ||
        !leader_is_free(field, label->anchor, tip))
        return;
    double cost = cost_of(field, label->anchor, tip, label->thing);
    if (cost >= *best)
        return;
    *best = cost;
    label->box = box;
    label->tip = tip;
    label->placed = label->led = true;
}

/* Rings of places around the anchor, from near to far, until no nearer one can be better. */
bool ks_label_beside(ks_label_field *field, ks_label *label)
{
    const double step = 1.5;
    size s = size_of(field->scene, label);
    const double reach = 70; /* a longer leader is no help */
    double best = INFINITY, half = hypot(s.width, s.height) / 2;
    for (int ring = 1; ring * step < reach && ring * step - half < best; ring++)
        for (int k = -ring; k <= ring; k++) {
            double a = k * step, r = ring * step;
            ks_point p = label->anchor;
            try_beside(field, label, box_about((ks_point){p.x + a, p.y - r}, s), &best);
            try_beside(field, label, box_about((ks_point){p.x + a, p.y + r}, s), &best);
            try_beside(field, label, box_about((ks_point){p.x - r, p.y + a}, s), &best);
            try_beside(field, label, box_about((ks_point){p.x + r, p.y + a}, s), &best);
        }
    if (!label->placed)
        return false;
    ks_taken_add(field, label->box);
    field->leaders = KS_GROW(field->scene->arena, field->leaders, field->n_leaders,
                             &field->leaders_room, struct ks_leader);
    field->leaders[field->n_leaders++] = (struct ks_leader){label->anchor, label->tip};
    return true;
}

void ks_label_draw(ks_label_field *field, const ks_label *label, int ground)
{
    if (!label->placed)
        return;
    ks_scene *scene = field->scene;
    ks_box box = label->box;
    if (label->led && hypot(label->tip.x - label->anchor.x, label->tip.y - label->anchor.y) > 1.5) {
        ks_scene_line(scene, KS_LOOK_LEADER, label->anchor, label->tip);
        ks_scene_disc(scene, KS_LOOK_DOT, label->anchor, 0.5);
    }
    if (ground >= 0) {
        ks_path path = {0};
        ks_path_move(scene->arena, &path, (ks_point){box.x0, box.y0});
        ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y0});
        ks_path_line(scene->arena, &path, (ks_point){box.x1, box.y1});
        ks_path_line(scene->arena, &path, (ks_point){box.x0, box.y1});
        ks_path_close(scene->arena, &path);
        ks_scene_fill(scene, KS_LOOK_BODY, path, ground);
    }
    double y = box.y0, x = (box.x0 + box.x1) / 2;
    for (int i = 0; i < 2 && label->text[i]; i++) {
        ks_scene_words(scene, label->look[i],
                       (ks_point){x, y + ks_words_above(label->look[i], label->cap_mm[i])},
                       KS_MIDDLE, label->cap_mm[i], label->text[i]);
        y += line_height(label->look[i], label->cap_mm[i]);
    }
}
