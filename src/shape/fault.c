#include "shape/plane.h"

#include <stdlib.h>

/* More vertices than any pot needs, few enough that all pairs can be looked at. */
enum { MOST_VERTICES = 1000 };
static const double farthest_mm = 1e5;

static const char *fault_of_numbers(const ks_outline *shape)
{
    if (!(shape->round >= 0 && shape->round <= farthest_mm))
        return "its round or radius is not between 0 and 100 m";
    for (int i = 0; i < shape->n; i++)
        if (!(fabs(shape->at[i].x) <= farthest_mm && fabs(shape->at[i].y) <= farthest_mm))
            return "a vertex is not within 100 m of the origin";
    for (int i = 0; shape->n > 1 && i < shape->n; i++) {
        ks_point next = next_of(shape, i);
        if (next.x == shape->at[i].x && next.y == shape->at[i].y)
            return "a vertex is the same as the one before it";
    }
    return NULL;
}

/* Neighbouring edges share a vertex; they are at fault only when the second runs back. */
static bool edges_meet(const ks_outline *shape, int i, int j)
{
    ks_point a = shape->at[i], b = next_of(shape, i), c = shape->at[j], d = next_of(shape, j);
    if (j == i + 1)
        return turn_of(a, b, d) == 0 && dot(minus(b, a), minus(d, b)) < 0;
    if (i == 0 && j == shape->n - 1)
        return turn_of(c, d, b) == 0 && dot(minus(d, c), minus(b, d)) < 0;
    return squared_between_boxes(box_of_edge(a, b), box_of_edge(c, d)) == 0 &&
           ks_segments_squared(a, b, c, d) == 0;
}

typedef struct {
    int number;
    ks_box box;
} edge;

static int by_left_end(const void *x, const void *y)
{
    const edge *a = x, *b = y;
    if (a->box.x0 != b->box.x0)
        return a->box.x0 < b->box.x0 ? -1 : 1;
    return a->number - b->number;
}

/* From left to right, so that an edge is held only against those that begin before it ends. */
static bool is_simple(const ks_outline *shape)
{
    ks_arena scratch = {0};
    int n = shape->n;
    bool simple = true;
    edge *edges = KS_TAKE(&scratch, n, edge);
    for (int i = 0; i < n; i++)
        edges[i] = (edge){i, box_of_edge(shape->at[i], next_of(shape, i))};
    qsort(edges, (size_t)n, sizeof *edges, by_left_end);
    for (int i = 0; i < n && simple; i++)
        for (int j = i + 1; j < n && edges[j].box.x0 <= edges[i].box.x1 && simple; j++) {
            int a = edges[i].number, b = edges[j].number;
            simple = !edges_meet(shape, a < b ? a : b, a < b ? b : a);
        }
    ks_arena_finish(&scratch);
    return simple;
}

const char *ks_outline_fault(const ks_outline *shape)
{
    if (shape->n < 1 || !shape->at)
        return "it has no vertices";
    if (shape->n > MOST_VERTICES)
        return "it has more than 1000 vertices";
    const char *fault = fault_of_numbers(shape);
    if (fault)
        return fault;
    if (shape->n < 3)
        return shape->round > 0 ? NULL : "it has no area: one or two vertices need a round";
    ks_outline bare = {shape->n, shape->at, 0};
    if (!is_simple(&bare))
        return "its edges cross or touch";
    return ks_outline_area(&bare) > 0 ? NULL : "its vertices do not run counter-clockwise";
}
