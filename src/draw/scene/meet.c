#include "draw/scene/trace.h"

#include <math.h>

ks_box ks_polygon_box(const ks_polygon *shape)
{
    ks_box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < shape->n; i++) {
        box.x0 = fmin(box.x0, shape->at[i].x);
        box.x1 = fmax(box.x1, shape->at[i].x);
        box.y0 = fmin(box.y0, shape->at[i].y);
        box.y1 = fmax(box.y1, shape->at[i].y);
    }
    return box;
}

bool ks_boxes_meet(ks_box a, ks_box b)
{
    return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

bool ks_point_within(ks_point p, const ks_polygon *shape)
{
    bool within = false;
    for (int i = 0, k = shape->n - 1; i < shape->n; k = i++) {
        ks_point a = shape->at[i], b = shape->at[k];
        if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x)
            within = !within;
    }
    return within;
}

/* Liang and Barsky's clipping: does any of the segment lie in the open box. */
bool ks_segment_meets_box(ks_point a, ks_point b, ks_box box)
{
    double from = 0, to = 1;
    double step[4] = {a.x - b.x, b.x - a.x, a.y - b.y, b.y - a.y};
    double room[4] = {a.x - box.x0, box.x1 - a.x, a.y - box.y0, box.y1 - a.y};
    for (int i = 0; i < 4; i++) {
        if (step[i] == 0) {
            if (room[i] <= 0)
                return false;
        } else if (step[i] < 0) {
            from = fmax(from, room[i] / step[i]);
        } else {
            to = fmin(to, room[i] / step[i]);
        }
    }
    return from < to;
}

static bool side_meets(ks_box box, const ks_polygon *shape)
{
    for (int i = 0, k = shape->n - 1; i < shape->n; k = i++)
        if (ks_segment_meets_box(shape->at[i], shape->at[k], box))
            return true;
    return false;
}

bool ks_box_within(ks_box box, const ks_polygon *shape)
{
    return ks_point_within((ks_point){box.x0, box.y0}, shape) && !side_meets(box, shape);
}

bool ks_box_meets(ks_box box, const ks_polygon *shape)
{
    return ks_point_within((ks_point){box.x0, box.y0}, shape) || side_meets(box, shape);
}

static double side_of(ks_point a, ks_point b, ks_point p)
{
    return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

bool ks_segments_cross(ks_point a, ks_point b, ks_point c, ks_point d)
{
    return side_of(a, b, c) * side_of(a, b, d) < 0 && side_of(c, d, a) * side_of(c, d, b) < 0;
}

/* Hatching: for each line of the lattice, its stretches within the shape by the even-odd rule. */
typedef struct {
    double c, s; /* direction of the lines */
    double pitch_mm;
} lattice;

static int sorted_crossings(const ks_polygon *shape, lattice l, double at, double *along)
{
    int n = 0;
    for (int i = 0, k = shape->n - 1; i < shape->n; k = i++) {
        ks_point p = shape->at[i], q = shape->at[k];
        double u = -p.x * l.s + p.y * l.c - at, v = -q.x * l.s + q.y * l.c - at;
        if ((u > 0) == (v > 0))
            continue;
        double w = u / (u - v), x = p.x + w * (q.x - p.x), y = p.y + w * (q.y - p.y);
        double here = x * l.c + y * l.s;
        int j = n++;
        for (; j > 0 && along[j - 1] > here; j--)
            along[j] = along[j - 1];
        along[j] = here;
    }
    return n;
}

static void hatch_lines(ks_scene *scene, const ks_polygon *shape, lattice l, ks_path *path)
{
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < shape->n; i++) {
        double across = -shape->at[i].x * l.s + shape->at[i].y * l.c;
        least = fmin(least, across);
        most = fmax(most, across);
    }
    double *along = KS_TAKE(scene->arena, shape->n, double);
    for (double at = ceil(least / l.pitch_mm) * l.pitch_mm; at < most; at += l.pitch_mm) {
        int n = sorted_crossings(shape, l, at, along);
        for (int i = 0; i + 1 < n; i += 2) {
            ks_path_move(scene->arena, path,
                         (ks_point){along[i] * l.c - at * l.s, along[i] * l.s + at * l.c});
            ks_path_line(scene->arena, path,
                         (ks_point){along[i + 1] * l.c - at * l.s, along[i + 1] * l.s + at * l.c});
        }
    }
}

void ks_hatch(ks_scene *scene, const ks_polygon *shape, int kind)
{
    static const lattice up = {0.70710678, -0.70710678, 2.4}, down = {0.70710678, 0.70710678, 2.4},
                         level = {1, 0, 2.4}, upright = {0, 1, 2.4};
    static const struct {
        const lattice *first, *second;
    } kinds[KS_HATCHES] = {{NULL, NULL}, {&up, NULL},    {&down, NULL},
                           {&up, &down}, {&level, NULL}, {&level, &upright}};
    ks_path path = {0};
    if (kind > 0 && kinds[kind % KS_HATCHES].first)
        hatch_lines(scene, shape, *kinds[kind % KS_HATCHES].first, &path);
    if (kind > 0 && kinds[kind % KS_HATCHES].second)
        hatch_lines(scene, shape, *kinds[kind % KS_HATCHES].second, &path);
    ks_scene_shape(scene, KS_LOOK_HATCH, path);
}
