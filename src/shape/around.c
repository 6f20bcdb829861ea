#include "shape/plane.h"

/* The circle on two points, or through three; r < 0 when three lie in line. */
static ks_circle on_two(ks_point a, ks_point b)
{
    ks_point half = {(b.x - a.x) / 2, (b.y - a.y) / 2};
    return (ks_circle){{a.x + half.x, a.y + half.y}, length(half)};
}

static ks_circle through_three(ks_point a, ks_point b, ks_point c)
{
    ks_point u = minus(b, a), v = minus(c, a);
    double twice = 2 * cross(u, v);
    if (twice == 0)
        return (ks_circle){a, -1};
    ks_point to = {(v.y * dot(u, u) - u.y * dot(v, v)) / twice,
                   (u.x * dot(v, v) - v.x * dot(u, u)) / twice};
    return (ks_circle){{a.x + to.x, a.y + to.y}, length(to)};
}

static bool holds(ks_circle circle, const ks_point *points, int n)
{
    for (int i = 0; i < n; i++)
        if (length(minus(points[i], circle.centre)) > circle.r * (1 + 1e-12))
            return false;
    return true;
}

typedef struct {
    ks_circle circle;
    int n;
    ks_point at[4]; /* the two or three points that hold the circle */
} basis;

static void keep_if_smaller(basis *best, const basis *all, ks_circle circle, int n,
                            const ks_point *by)
{
    if (circle.r < 0 || (best->circle.r >= 0 && circle.r >= best->circle.r) ||
        !holds(circle, all->at, all->n))
        return;
    best->circle = circle;
    best->n = n;
    for (int i = 0; i < n; i++)
        best->at[i] = by[i];
}

/* Smallest circle around at most four points, by trying all pairs and threes. */
static basis smallest(const basis *all)
{
    basis best = {.circle = {all->at[0], -1}};
    for (int i = 0; i < all->n; i++)
        for (int j = i + 1; j < all->n; j++) {
            ks_point two[2] = {all->at[i], all->at[j]};
            keep_if_smaller(&best, all, on_two(two[0], two[1]), 2, two);
            for (int k = j + 1; k < all->n; k++) {
                ks_point three[3] = {two[0], two[1], all->at[k]};
                ks_circle circle = through_three(three[0], three[1], three[2]);
                keep_if_smaller(&best, all, circle, 3, three);
            }
        }
    return best;
}

static int farthest_from(const ks_outline *shape, ks_point centre)
{
    int farthest = 0;
    double most = -1;
    for (int i = 0; i < shape->n; i++) {
        ks_point to = minus(shape->at[i], centre);
        if (dot(to, to) > most) {
            most = dot(to, to);
            farthest = i;
        }
    }
    return farthest;
}

/* The farthest vertex joins the two or three that hold the circle, until none is outside: the
 * circle grows each time, so it ends. */
ks_circle ks_outline_around(const ks_outline *shape)
{
    basis held = {.circle = {shape->at[0], 0}, .n = 1, .at = {shape->at[0]}};
    for (int turns = 0; turns < 10 * shape->n + 10; turns++) {
        ks_point p = shape->at[farthest_from(shape, held.circle.centre)];
        if (length(minus(p, held.circle.centre)) <= held.circle.r * (1 + 1e-12))
            break;
        held.at[held.n++] = p;
        basis next = smallest(&held);
        if (!(next.circle.r > held.circle.r))
            break;
        held = next;
    }
    double most =
        length(minus(shape->at[farthest_from(shape, held.circle.centre)], held.circle.centre));
    return (ks_circle){held.circle.centre, most + shape->round};
}
