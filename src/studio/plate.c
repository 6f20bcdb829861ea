#include "studio/plate.h"

#include <math.h>

enum { DEGREE = 8, POWERS = 2 * DEGREE + 1, TERMS = (DEGREE + 1) * (DEGREE + 2) / 2 };

static const double poisson = 0.2;

/* Integrals of x^i y^j over a polygon. */
typedef struct {
    double of[POWERS][POWERS];
} moments;

/* A term's second derivatives by x, by y and by both, each a factor and two powers less. */
typedef struct {
    int x, y;
    double xx, yy, xy;
} bent_term;

/* The polygon around a plate, in axes that reach from -1 to 1 across it. */
typedef struct {
    int n;
    ks_point *at;
    ks_point middle, half; /* of its box */
    moments all, loaded;
    bent_term bent[TERMS];
} plate;

/* One equation a row, its right-hand side last. */
typedef struct {
    int n;
    double *at;
} equations;

static double *cell(const equations *e, int row, int column)
{
    return &e->at[(size_t)row * (size_t)(e->n + 1) + (size_t)column];
}

/* A round edge becomes that of the hull, in steps of 10 degrees. */
static ks_outline polygon_of(const ks_outline *shape, ks_arena *arena)
{
    enum { STEPS = 36 };
    if (shape->round <= 0 && shape->n >= 3)
        return *shape;
    ks_point *at = KS_TAKE(arena, STEPS, ks_point);
    for (int i = 0; i < STEPS; i++) {
        ks_rotation way = ks_rotation_of(i * 360.0 / STEPS);
        ks_point far = shape->at[0];
        for (int k = 1; k < shape->n; k++)
            if (shape->at[k].x * way.c + shape->at[k].y * way.s > far.x * way.c + far.y * way.s)
                far = shape->at[k];
        at[i] = (ks_point){far.x + shape->round * way.c, far.y + shape->round * way.s};
    }
    return (ks_outline){STEPS, at, 0};
}

/* out[k] = base to the k, for k below n. */
static void raise(double base, int n, double *out)
{
    out[0] = 1;
    for (int k = 1; k < n; k++)
        out[k] = out[k - 1] * base;
}

/* By Green's theorem along the edges: Gauss's nine points are exact for these powers. */
static void add_edge(moments *m, ks_point a, ks_point b)
{
    static const double node[9] = {0,
                                   0.3242534234038089,
                                   -0.3242534234038089,
                                   0.6133714327005904,
                                   -0.6133714327005904,
                                   0.8360311073266358,
                                   -0.8360311073266358,
                                   0.9681602395076261,
                                   -0.9681602395076261};
    static const double weight[9] = {0.3302393550012598, 0.3123470770400029, 0.3123470770400029,
                                     0.2606106964029354, 0.2606106964029354, 0.1806481606948574,
                                     0.1806481606948574, 0.0812743883615744, 0.0812743883615744};
    for (int g = 0; g < 9; g++) {
        double t = (1 + node[g]) / 2, x = a.x + t * (b.x - a.x), y = a.y + t * (b.y - a.y);
        double part = weight[g] / 2 * (b.y - a.y), of_x[POWERS + 1], of_y[POWERS];
        raise(x, POWERS + 1, of_x);
        raise(y, POWERS, of_y);
        for (int i = 0; i < POWERS; i++)
            for (int j = 0; i + j < POWERS; j++)
                m->of[i][j] += part * of_x[i + 1] / (i + 1) * of_y[j];
    }
}

static ks_point to_plate(const plate *p, ks_point at)
{
    return (ks_point){(at.x - p->middle.x) / p->half.x, (at.y - p->middle.y) / p->half.y};
}

static moments moments_of(const plate *p, const ks_outline *polygon)
{
    moments m = {0};
    for (int i = 0; i < polygon->n; i++)
        add_edge(&m, to_plate(p, polygon->at[i]), to_plate(p, polygon->at[(i + 1) % polygon->n]));
    return m;
}

/* The term-th power of x and of y. */
static void powers_of(int term, int *of_x, int *of_y)
{
    int degree = 0;
    for (; term > degree; degree++)
        term -= degree + 1;
    *of_x = degree - term;
    *of_y = term;
}

static bent_term bend(const plate *p, int term)
{
    bent_term b;
    powers_of(term, &b.x, &b.y);
    b.xx = b.x * (b.x - 1) / (p->half.x * p->half.x);
    b.yy = b.y * (b.y - 1) / (p->half.y * p->half.y);
    b.xy = b.x * b.y / (p->half.x * p->half.y);
    return b;
}

static plate plate_of(const ks_outline *shape, const ks_outline *loaded, ks_arena *arena)
{
    ks_outline edge = polygon_of(shape, arena);
    ks_box box = ks_outline_box(&edge);
    plate p = {.n = edge.n, .at = KS_TAKE(arena, edge.n, ks_point)};
    p.middle = (ks_point){(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    p.half = (ks_point){(box.x1 - box.x0) / 2, (box.y1 - box.y0) / 2};
    for (int i = 0; i < p.n; i++)
        p.at[i] = to_plate(&p, edge.at[i]);
    p.all = p.loaded = moments_of(&p, &edge);
    if (loaded) {
        ks_outline under = polygon_of(loaded, arena);
        p.loaded = moments_of(&p, &under);
    }
    for (int i = 0; i < TERMS; i++)
        p.bent[i] = bend(&p, i);
    return p;
}

static double moment_of(const plate *p, int of_x, int of_y)
{
    return of_x < 0 || of_y < 0 ? 0 : p->all.of[of_x][of_y];
}

/* Energy of two terms together, for a stiffness of 1. */
static double energy(const plate *p, int first, int second)
{
    bent_term a = p->bent[first], b = p->bent[second];
    int x = a.x + b.x, y = a.y + b.y;
    double area = p->half.x * p->half.y;
    double both = poisson * (a.xx * b.yy + a.yy * b.xx) + 2 * (1 - poisson) * a.xy * b.xy;
    return area * (a.xx * b.xx * moment_of(p, x - 4, y) + a.yy * b.yy * moment_of(p, x, y - 4) +
                   both * moment_of(p, x - 2, y - 2));
}

static double term_at(int term, ks_point at)
{
    double of_x[DEGREE + 1], of_y[DEGREE + 1];
    int x, y;
    powers_of(term, &x, &y);
    raise(at.x, DEGREE + 1, of_x);
    raise(at.y, DEGREE + 1, of_y);
    return of_x[x] * of_y[y];
}

/* Terms first, then the forces of the posts, which hold it where they stand; a load of 1. */
static equations set_up(const plate *p, int n_posts, const ks_point *posts, ks_arena *arena)
{
    equations e = {.n = TERMS + n_posts};
    e.at = KS_TAKE(arena, e.n * (e.n + 1), double);
    for (int i = 0; i < TERMS; i++) {
        for (int j = 0; j < TERMS; j++)
            *cell(&e, i, j) = energy(p, i, j);
        int x, y;
        powers_of(i, &x, &y);
        *cell(&e, i, e.n) = p->loaded.of[x][y] / p->loaded.of[0][0];
        for (int s = 0; s < n_posts; s++)
            *cell(&e, i, TERMS + s) = *cell(&e, TERMS + s, i) = term_at(i, posts[s]);
    }
    return e;
}

static void swap_rows(equations *e, int a, int b)
{
    for (int c = 0; c <= e->n && a != b; c++) {
        double kept = *cell(e, a, c);
        *cell(e, a, c) = *cell(e, b, c);
        *cell(e, b, c) = kept;
    }
}

/* Each row by its greatest entry, so that millimetres do not decide where to begin. */
static void scale_rows(equations *e)
{
    for (int r = 0; r < e->n; r++) {
        double most = 0;
        for (int c = 0; c < e->n; c++)
            most = fmax(most, fabs(*cell(e, r, c)));
        for (int c = 0; c <= e->n && most > 0; c++)
            *cell(e, r, c) /= most;
    }
}

/* By elimination, the greatest entry of a column first; the answers then stand in the last column.
 * False: it can still move. */
static bool solve(equations *e)
{
    scale_rows(e);
    for (int k = 0; k < e->n; k++) {
        int best = k;
        for (int r = k + 1; r < e->n; r++)
            if (fabs(*cell(e, r, k)) > fabs(*cell(e, best, k)))
                best = r;
        if (fabs(*cell(e, best, k)) < 1e-12)
            return false;
        swap_rows(e, k, best);
        for (int r = 0; r < e->n; r++) {
            double part = r == k ? 0 : *cell(e, r, k) / *cell(e, k, k);
            for (int c = k; c <= e->n && part != 0; c++)
                *cell(e, r, c) -= part * *cell(e, k, c);
        }
    }
    for (int k = 0; k < e->n; k++)
        *cell(e, k, e->n) /= *cell(e, k, k);
    return true;
}

/* The greater principal moment there, positive where the underside is pulled. */
static double sagging_at(const plate *p, const equations *bent, ks_point at)
{
    double xx = 0, yy = 0, xy = 0, of_x[DEGREE + 1], of_y[DEGREE + 1];
    raise(at.x, DEGREE + 1, of_x);
    raise(at.y, DEGREE + 1, of_y);
    for (int i = 0; i < TERMS; i++) {
        bent_term b = p->bent[i];
        double w = *cell(bent, i, bent->n);
        xx -= b.xx == 0 ? 0 : w * b.xx * of_x[b.x - 2] * of_y[b.y];
        yy -= b.yy == 0 ? 0 : w * b.yy * of_x[b.x] * of_y[b.y - 2];
        xy -= b.xy == 0 ? 0 : w * b.xy * of_x[b.x - 1] * of_y[b.y - 1];
    }
    double mx = xx + poisson * yy, my = yy + poisson * xx, twist = (1 - poisson) * xy;
    return (mx + my) / 2 + sqrt((mx - my) * (mx - my) / 4 + twist * twist);
}

/* Looked for along its edges, the fewer places on each the more there are, and at parts of the way
 * from there to its middle. */
static double most_sagging(const plate *p, const equations *bent)
{
    enum { ALONG = 6, AROUND = 216, INWARD = 4 };
    const ks_outline edge = {p->n, p->at, 0};
    ks_point middle = ks_outline_centroid(&edge);
    bool convex = ks_outline_convex(&edge);
    int along = p->n * ALONG <= AROUND ? ALONG : p->n < AROUND ? AROUND / p->n : 1;
    double most = 0;
    for (int i = 0; i < p->n * along; i++) {
        ks_point a = p->at[i / along], b = p->at[(i / along + 1) % p->n];
        double t = (double)(i % along) / along;
        ks_point rim = {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
        for (int k = 0; k <= INWARD; k++) {
            double u = (double)k / INWARD;
            ks_point at = {middle.x + u * (rim.x - middle.x), middle.y + u * (rim.y - middle.y)};
            if (convex || ks_outline_from_point(&edge, at) < 1e-9)
                most = fmax(most, sagging_at(p, bent, at));
        }
    }
    return most;
}

/* The post that pulls most; -1 = none does. */
static int worst_puller(const equations *e)
{
    int worst = -1;
    for (int r = TERMS; r < e->n; r++)
        if (*cell(e, r, e->n) < -1e-9 && (worst < 0 || *cell(e, r, e->n) < *cell(e, worst, e->n)))
            worst = r;
    return worst < 0 ? -1 : worst - TERMS;
}

static int places_within(const plate *p, int n, const ks_point *posts, ks_point *out)
{
    int kept = 0;
    for (int i = 0; i < n; i++) {
        out[kept] = to_plate(p, posts[i]);
        bool again = false;
        for (int k = 0; k < kept && !again; k++)
            again = fabs(out[k].x - out[kept].x) + fabs(out[k].y - out[kept].y) < 0.01;
        kept += !again;
    }
    return kept;
}

double ks_plate_bending(const ks_outline *shape, const ks_outline *loaded, int n_posts,
                        const ks_point *posts, ks_arena *arena)
{
    plate p = plate_of(shape, loaded, arena);
    ks_point *at = KS_TAKE(arena, n_posts, ks_point);
    int n = places_within(&p, n_posts, posts, at);
    while (n >= 3) {
        equations e = set_up(&p, n, at, arena);
        if (!solve(&e))
            return INFINITY;
        int puller = worst_puller(&e);
        if (puller < 0)
            return 6 * most_sagging(&p, &e);
        at[puller] = at[--n];
    }
    return INFINITY;
}
