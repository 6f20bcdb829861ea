#include "kilnstow/shape.h"

#include <math.h>
#include <string.h>

/* A polygon under simplification: what each pass leaves of its corners. */
typedef struct {
    int n;
    ks_point *at;
    double side;    /* 1: it may only grow, -1: only shrink */
    double left_mm; /* how far it may still go */
    double used_mm; /* the farthest that this pass has gone */
} chain;

static ks_point corner(const chain *c, int i)
{
    return c->at[(i % c->n + c->n) % c->n];
}

static double cross(ks_point a, ks_point b, ks_point c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static double between(ks_point a, ks_point b)
{
    double dx = b.x - a.x, dy = b.y - a.y;
    return sqrt(dx * dx + dy * dy);
}

/* Positive where the polygon bulges at corner i, as seen from the side to which it may go. */
static double bulge(const chain *c, int i)
{
    return c->side * cross(corner(c, i - 1), corner(c, i), corner(c, i + 1));
}

/* How far the line past a hollow corner is from it. */
static double filled_mm(const chain *c, int i)
{
    double length = between(corner(c, i - 1), corner(c, i + 1));
    return length > 0 ? -bulge(c, i) / length : INFINITY;
}

/* Where the sides before and after side i meet beyond it, and how far from it that is. */
static double peak_mm(const chain *c, int i, ks_point *peak)
{
    ks_point a = corner(c, i - 1), b = corner(c, i), d = corner(c, i + 1), e = corner(c, i + 2);
    double ux = b.x - a.x, uy = b.y - a.y, vx = d.x - e.x, vy = d.y - e.y;
    double turn = c->side * (uy * vx - ux * vy), length = between(b, d);
    if (!(turn > 0) || !(length > 0))
        return INFINITY;
    double t = c->side * ((d.y - b.y) * vx - (d.x - b.x) * vy) / turn;
    *peak = (ks_point){b.x + t * ux, b.y + t * uy};
    return t > 0 ? c->side * cross(b, *peak, d) / length : INFINITY;
}

/* Where a side goes, its two corners become one; a hollow corner vanishes. What bears the one is
 * not moved by the next, so that no place goes farther than told. */
static int passed(chain *c, ks_point *out)
{
    int n = 0;
    bool risen = false;
    out[n++] = c->at[0];
    for (int i = 1; i < c->n; i++) {
        ks_point peak;
        bool bulges = bulge(c, i) > 0, last = i + 1 >= c->n;
        double rise = bulges && !last && bulge(c, i + 1) > 0 ? peak_mm(c, i, &peak) : INFINITY;
        double fill = !bulges && !last && !risen ? filled_mm(c, i) : INFINITY;
        risen = rise <= c->left_mm;
        if (!risen && fill > c->left_mm) {
            out[n++] = c->at[i];
            continue;
        }
        c->used_mm = fmax(c->used_mm, risen ? rise : fill);
        out[n++] = risen ? peak : c->at[i + 1];
        i++;
    }
    return n;
}

ks_outline ks_outline_simplified(const ks_outline *shape, double within_mm, bool grow,
                                 ks_arena *arena)
{
    enum { FEWEST = 8 };
    ks_point *now = KS_TAKE(arena, shape->n, ks_point), *next = KS_TAKE(arena, shape->n, ks_point);
    memcpy(now, shape->at, (size_t)shape->n * sizeof *now);
    chain c = {shape->n, now, grow ? 1 : -1, within_mm, 0};
    while (c.n > FEWEST) {
        c.used_mm = 0;
        int n = passed(&c, next);
        if (n == c.n)
            break;
        ks_point *old = c.at;
        c.at = next;
        next = old;
        c.n = n;
        c.left_mm -= c.used_mm;
    }
    ks_outline simple = {c.n, c.at, shape->round};
    return c.n < shape->n && !ks_outline_fault(&simple) ? simple : *shape;
}
