#include "shape/plane.h"

/* A polygon as a ring of vertex numbers. */
typedef struct {
    int n;
    int *at;
} ring;

typedef struct {
    const ks_outline *shape;
    ks_arena *arena;
    int n_rings;
    ring *rings; /* triangles at first */
    int n_cuts;
    int (*cuts)[2]; /* diagonals between two rings */
} cutting;

static bool triangle_holds(ks_point a, ks_point b, ks_point c, ks_point p)
{
    return turn_of(a, b, p) >= 0 && turn_of(b, c, p) >= 0 && turn_of(c, a, p) >= 0;
}

static bool same(ks_point a, ks_point b)
{
    return a.x == b.x && a.y == b.y;
}

/* What keeps a corner from being an ear, one that can be cut off: a vertex (its number) that lies
 * in the triangle with its neighbours, or that there is no such triangle. It holds as long as the
 * neighbours and that vertex stay. */
enum { NOTHING = -1, HOLLOW = -2, FLAT = -3 };

static int what_bars(const ks_point *at, const ring *left, int k)
{
    int before = left->at[(k + left->n - 1) % left->n], after = left->at[(k + 1) % left->n];
    ks_point a = at[before], b = at[left->at[k]], c = at[after];
    double turn = turn_of(a, b, c);
    if (!(turn > 0))
        return turn == 0 ? FLAT : HOLLOW;
    for (int i = 0; i < left->n; i++) {
        ks_point p = at[left->at[i]];
        if (triangle_holds(a, b, c, p) && !same(p, a) && !same(p, b) && !same(p, c))
            return left->at[i];
    }
    return NOTHING;
}

/* Corners as they are cut off, and what is known of each vertex: NOTHING bars those that have not
 * been looked at. */
typedef struct {
    ring left;
    int *bar;
    bool *gone;
} ears;

/* The next corner to cut; a simple polygon always has an ear, so the second and third choice are
 * for corners without area and for polygons that are not simple. */
static int cut_corner_to(const ks_point *at, ears *e)
{
    int flat = -1;
    for (int k = 0; k < e->left.n; k++) {
        int *bar = &e->bar[e->left.at[k]];
        if (*bar == NOTHING || (*bar >= 0 && e->gone[*bar]))
            *bar = what_bars(at, &e->left, k);
        if (*bar == NOTHING)
            return k;
        flat = *bar == FLAT ? k : flat;
    }
    return flat >= 0 ? flat : 0;
}

static void add_triangle(cutting *c, int i, int j, int k)
{
    ring *made = &c->rings[c->n_rings++];
    made->n = 3;
    made->at = KS_TAKE(c->arena, 3, int);
    made->at[0] = i;
    made->at[1] = j;
    made->at[2] = k;
}

static ears with_all_corners(const cutting *c)
{
    int n = c->shape->n;
    ears e = {
        {n, KS_TAKE(c->arena, n, int)}, KS_TAKE(c->arena, n, int), KS_TAKE(c->arena, n, bool)};
    for (int i = 0; i < n; i++) {
        e.left.at[i] = i;
        e.bar[i] = NOTHING;
    }
    return e;
}

static void cut_ears(cutting *c)
{
    const ks_point *at = c->shape->at;
    ears e = with_all_corners(c);
    ring *left = &e.left;
    while (left->n > 3) {
        int k = cut_corner_to(at, &e), corner = left->at[k];
        int before = left->at[(k + left->n - 1) % left->n], after = left->at[(k + 1) % left->n];
        if (turn_of(at[before], at[corner], at[after]) > 0)
            add_triangle(c, before, corner, after);
        c->cuts[c->n_cuts][0] = before;
        c->cuts[c->n_cuts++][1] = after;
        for (int i = k; i + 1 < left->n; i++)
            left->at[i] = left->at[i + 1];
        left->n--;
        e.gone[corner] = true;
        e.bar[before] = e.bar[after] = NOTHING;
    }
    if (turn_of(at[left->at[0]], at[left->at[1]], at[left->at[2]]) > 0)
        add_triangle(c, left->at[0], left->at[1], left->at[2]);
}

/* The ring that runs from vertex i straight to j, and where in it; -1 if none does. */
static int ring_with(const cutting *c, int i, int j, int *where)
{
    for (int r = 0; r < c->n_rings; r++) {
        const ring *now = &c->rings[r];
        for (int k = 0; k < now->n; k++)
            if (now->at[k] == i && now->at[k + 1 < now->n ? k + 1 : 0] == j) {
                *where = k;
                return r;
            }
    }
    return -1;
}

/* Both rings without their common edge: a runs from its edge's end round to its start, then b. */
static ring join(const cutting *c, const ring *a, int at_a, const ring *b, int at_b)
{
    ring both = {0, KS_TAKE(c->arena, a->n + b->n, int)};
    for (int k = 1; k < a->n; k++)
        both.at[both.n++] = a->at[(at_a + k) % a->n];
    for (int k = 1; k < b->n; k++)
        both.at[both.n++] = b->at[(at_b + k) % b->n];
    return both;
}

static ks_outline outline_of(const cutting *c, const ring *from)
{
    ks_point *at = KS_TAKE(c->arena, from->n, ks_point);
    for (int k = 0; k < from->n; k++)
        at[k] = c->shape->at[from->at[k]];
    return (ks_outline){from->n, at, c->shape->round};
}

static void join_over(cutting *c, int i, int j)
{
    int at_a = 0, at_b = 0;
    int a = ring_with(c, i, j, &at_a), b = ring_with(c, j, i, &at_b);
    if (a < 0 || b < 0 || a == b)
        return;
    ring both = join(c, &c->rings[a], at_a, &c->rings[b], at_b);
    ks_outline shape = outline_of(c, &both);
    if (!ks_outline_convex(&shape))
        return;
    c->rings[a] = both;
    c->rings[b] = c->rings[--c->n_rings];
}

/* Triangles, join over every diagonal that both sides can spare (Hertel and Mehlhorn 1983): at
 * most four times as many parts as the fewest. */
int ks_outline_convex_parts(const ks_outline *shape, ks_arena *arena, ks_outline **parts)
{
    *parts = KS_TAKE(arena, shape->n, ks_outline);
    (*parts)[0] = *shape;
    if (ks_outline_convex(shape))
        return 1;
    cutting c = {.shape = shape, .arena = arena};
    c.rings = KS_TAKE(arena, shape->n, ring);
    c.cuts = ks_arena_take(arena, (size_t)shape->n, sizeof *c.cuts);
    cut_ears(&c);
    for (int i = 0; i < c.n_cuts; i++)
        join_over(&c, c.cuts[i][0], c.cuts[i][1]);
    for (int r = 0; r < c.n_rings; r++)
        (*parts)[r] = outline_of(&c, &c.rings[r]);
    return c.n_rings > 0 ? c.n_rings : 1;
}
