#include "pack/kit/penalty.h"

#include "pack/kit/hand_room.h"
#include "pack/kit/separation.h"

#include <math.h>

void ks_strain_init(ks_strain *strain, const ks_pile *pile, int64_t *work, ks_arena *arena)
{
    int room = pile->room;
    *strain = (ks_strain){.pile = pile, .work = work};
    strain->pair_room = room * (room - 1) / 2;
    strain->pairs = KS_TAKE(arena, strain->pair_room, struct ks_pair);
    strain->pull = KS_TAKE(arena, room, ks_pull);
}

void ks_strain_list(ks_strain *strain, double skin_mm)
{
    const ks_pile *pile = strain->pile;
    strain->n_pairs = 0;
    strain->skin_mm = skin_mm;
    *strain->work += pile->n * pile->n / 8;
    double beyond = strain->aim_mm + 2 * skin_mm;
    for (int i = 0; i < pile->n; i++) {
        double x = pile->lie[i].x, y = pile->lie[i].y;
        for (int j = 0; j < i; j++) {
            const ks_meetings *m = ks_kit_meetings(pile->kit, pile->kind[j], pile->kind[i]);
            double dx = x - pile->lie[j].x, dy = y - pile->lie[j].y, far = m->far + beyond;
            if (dx * dx + dy * dy < far * far && m->n > 0)
                strain->pairs[strain->n_pairs++] = (struct ks_pair){j, i, m->points, m->far, m};
        }
    }
}

/* What takes part in one shortfall. */
typedef struct {
    int i, j; /* -1: a wall, a fixture */
    ks_pull *on_i, *on_j;
    bool posts; /* the other is a fixture that turns */
} parties;

static inline void pulled(ks_pull *pull, double by, ks_pull along)
{
    pull->x += by * along.x;
    pull->y += by * along.y;
    pull->turn += by * along.turn;
}

/* How a shortfall at (x, y) grows when the body at `lie` moves along (nx, ny), or turns. */
static inline ks_pull growth(const ks_lie *lie, double x, double y, double nx, double ny)
{
    return (ks_pull){nx, ny, (x - lie->x) * ny - (y - lie->y) * nx};
}

static void contact_listed(ks_strain *strain, const parties *who, double short_mm, ks_pull of_i,
                           ks_pull of_j, double of_posts)
{
    if (strain->n_contacts < strain->contact_room)
        strain->contacts[strain->n_contacts++] =
            (ks_contact){who->i, who->j, short_mm, of_i, of_j, of_posts};
}

/* Takes a shortfall into pulls and contacts; returns its strain. */
static double strained(ks_strain *strain, const parties *who, double short_mm,
                       const ks_touch *touch)
{
    const ks_pile *pile = strain->pile;
    double push = 2 * short_mm, of_posts = 0;
    ks_pull of_i = growth(&pile->lie[who->i], touch->ax, touch->ay, touch->nx, touch->ny);
    ks_pull of_j = {0, 0, 0};
    pulled(who->on_i, push, of_i);
    if (who->j >= 0) {
        of_j = growth(&pile->lie[who->j], touch->bx, touch->by, -touch->nx, -touch->ny);
        pulled(who->on_j, push, of_j);
    }
    if (who->posts) {
        of_posts = touch->by * touch->nx - touch->bx * touch->ny;
        strain->post_pull += push * of_posts;
    }
    strain->worst_mm = short_mm > strain->worst_mm ? short_mm : strain->worst_mm;
    if (strain->contacts)
        contact_listed(strain, who, short_mm, of_i, of_j, of_posts);
    return short_mm * short_mm;
}

double ks_strain_added(ks_strain *strain, int i, int j, double short_mm, const ks_touch *touch)
{
    parties who = {i, j, &strain->pull[i], j >= 0 ? &strain->pull[j] : NULL, false};
    return strained(strain, &who, short_mm, touch);
}

/* Whether the circles around two cores are apart: then the cores are too. */
static inline bool cores_apart(const ks_pile *pile, const struct ks_pair *pair,
                               const ks_meeting *meeting, double aim_mm)
{
    const ks_kind *a = &pile->kit->kinds[pile->kind[pair->i]];
    const ks_kind *b = &pile->kit->kinds[pile->kind[pair->j]];
    ks_point p = pile->core_at[pair->i * pile->kit->most_cores + meeting->a];
    ks_point q = pile->core_at[pair->j * pile->kit->most_cores + meeting->b];
    double apart = a->around[meeting->a].r + b->around[meeting->b].r + meeting->need + aim_mm;
    double dx = q.x - p.x, dy = q.y - p.y;
    return apart > 0 && dx * dx + dy * dy >= apart * apart;
}

/* Both bodies' pulls and the strain of one pair. */
static double pair_strain(ks_strain *strain, const struct ks_pair *pair, ks_pull *on_i,
                          ks_pull *on_j)
{
    const ks_pile *pile = strain->pile;
    const ks_lie *a = &pile->lie[pair->i], *b = &pile->lie[pair->j];
    const ks_meetings *all = pair->meetings;
    double dx = b->x - a->x, dy = b->y - a->y, far = all->far + strain->aim_mm, sum = 0;
    double square = dx * dx + dy * dy;
    if (square >= far * far)
        return 0;
    parties who = {pair->i, pair->j, on_i, on_j, false};
    if (pair->discs) {
        double d = sqrt(square);
        ks_touch touch = {d, d > 0 ? dx / d : 1, d > 0 ? dy / d : 0, a->x, a->y, b->x, b->y};
        return strained(strain, &who, far - d, &touch);
    }
    *strain->work += all->n;
    for (int m = 0; m < all->n; m++) {
        if (cores_apart(pile, pair, &all->list[m], strain->aim_mm))
            continue;
        ks_core of_a = ks_pile_core(pile, pair->i, all->list[m].a);
        ks_core of_b = ks_pile_core(pile, pair->j, all->list[m].b);
        double need = all->list[m].need + strain->aim_mm;
        ks_touch touch;
        if (ks_touch_cores(&of_a, &of_b, need, &touch))
            sum += strained(strain, &who, need - touch.gap, &touch);
    }
    return sum;
}

static inline double wall_aim(const ks_strain *strain)
{
    return strain->aim_mm + strain->inset_mm;
}

static double corner_strain(ks_strain *strain, const ks_bound *bound, const parties *who,
                            ks_point corner)
{
    ks_touch touch;
    const ks_core *wall = &strain->pile->kit->walls[bound->wall];
    double over =
        ks_touch_point(wall, corner.x, corner.y, &touch) - bound->allowed + wall_aim(strain);
    touch.ax = corner.x;
    touch.ay = corner.y;
    return over > 0 ? strained(strain, who, over, &touch) : 0;
}

/* Against a sharp wall each edge counts by itself, so that a corner of the room pushes both ways.
 */
static double edges_strain(ks_strain *strain, const ks_bound *bound, const parties *who,
                           ks_point corner)
{
    const ks_core *wall = &strain->pile->kit->walls[bound->wall];
    double sum = 0;
    for (int k = 0; k < wall->n; k++) {
        double over = wall->nx[k] * (corner.x - wall->x[k]) +
                      wall->ny[k] * (corner.y - wall->y[k]) - bound->allowed + wall_aim(strain);
        ks_touch touch = {0, wall->nx[k], wall->ny[k], corner.x, corner.y, 0, 0};
        if (over > 0)
            sum += strained(strain, who, over, &touch);
    }
    return sum;
}

/* Far more than rounding, far less than matters: a circle this far within needs no closer look. */
#define SURELY_MM 1e-6

/* Whether the circle around a core is within the wall: then each of its corners is. */
static bool core_within(const ks_strain *strain, int i, const ks_bound *bound)
{
    const ks_pile *pile = strain->pile;
    const ks_core *wall = &pile->kit->walls[bound->wall];
    ks_point at = pile->core_at[i * pile->kit->most_cores + bound->core];
    double r = pile->kit->kinds[pile->kind[i]].around[bound->core].r;
    double most = bound->allowed - wall_aim(strain) - r - SURELY_MM;
    if (wall->n == 1) {
        double dx = at.x - wall->x[0], dy = at.y - wall->y[0];
        return most >= 0 && dx * dx + dy * dy <= most * most;
    }
    for (int k = 0; k < wall->n; k++)
        if (wall->nx[k] * (at.x - wall->x[k]) + wall->ny[k] * (at.y - wall->y[k]) > fmin(most, 0))
            return false;
    return true;
}

static double wall_strain(ks_strain *strain, int i, ks_pull *pull)
{
    const ks_pile *pile = strain->pile;
    const ks_kind *kind = &pile->kit->kinds[pile->kind[i]];
    parties who = {i, -1, pull, NULL, false};
    double sum = 0;
    for (int k = 0; k < kind->n_bounds; k++) {
        const ks_bound *bound = &kind->bounds[k];
        if (core_within(strain, i, bound))
            continue;
        ks_core core = ks_pile_core(pile, i, bound->core);
        bool sharp = bound->allowed <= 0 && pile->kit->walls[bound->wall].n > 2;
        for (int c = 0; c < core.n; c++) {
            ks_point corner = {core.x[c], core.y[c]};
            sum += sharp ? edges_strain(strain, bound, &who, corner)
                         : corner_strain(strain, bound, &who, corner);
        }
    }
    return sum;
}

/* Whether the circle around a core is apart from the one around the fixture. */
static bool clear_of_fixture(const ks_strain *strain, int i, int f, const ks_meeting *meeting)
{
    const ks_pile *pile = strain->pile;
    ks_point at = pile->core_at[i * pile->kit->most_cores + meeting->a];
    double apart = pile->kit->kinds[pile->kind[i]].around[meeting->a].r +
                   pile->kit->fixtures[f].reach + meeting->need + strain->aim_mm + SURELY_MM;
    double dx = pile->fixture_at[f].x - at.x, dy = pile->fixture_at[f].y - at.y;
    return apart > 0 && dx * dx + dy * dy >= apart * apart;
}

static double fixture_strain(ks_strain *strain, int i, int f, ks_pull *pull)
{
    const ks_pile *pile = strain->pile;
    const ks_kind *kind = &pile->kit->kinds[pile->kind[i]];
    const ks_meetings *all = &kind->by_fixture[f];
    const ks_lie *lie = &pile->lie[i];
    double dx = pile->fixture_at[f].x - lie->x, dy = pile->fixture_at[f].y - lie->y;
    double far = all->far + strain->aim_mm, sum = 0;
    if (all->n == 0 || dx * dx + dy * dy >= far * far)
        return 0;
    parties who = {i, -1, pull, NULL, pile->kit->fixtures[f].turns};
    for (int m = 0; m < all->n; m++) {
        if (clear_of_fixture(strain, i, f, &all->list[m]))
            continue;
        ks_core core = ks_pile_core(pile, i, all->list[m].a);
        double need = all->list[m].need + strain->aim_mm;
        ks_touch touch;
        if (ks_touch_cores(&core, &pile->fixtures[f], need, &touch))
            sum += strained(strain, &who, need - touch.gap, &touch);
    }
    return sum;
}

/* The push that makes good a shortfall of a disc along (dx, dy), for each mm of these: most of what
 * is evaluated is discs, and needs no more while no contacts are listed. */
static inline double disc_push(double short_mm, double d, double *dx, double *worst_mm)
{
    *worst_mm = short_mm > *worst_mm ? short_mm : *worst_mm;
    if (d > 0)
        return 2 * short_mm / d;
    *dx = 1;
    return 2 * short_mm;
}

/* The pair strain of two discs. */
static inline double discs_strain(const ks_lie *a, const ks_lie *b, double far, ks_pull *on_a,
                                  ks_pull *on_b, double *worst_mm)
{
    double dx = b->x - a->x, dy = b->y - a->y, square = dx * dx + dy * dy;
    if (square >= far * far)
        return 0;
    double d = sqrt(square), push = disc_push(far - d, d, &dx, worst_mm);
    on_a->x += push * dx;
    on_a->y += push * dy;
    on_b->x -= push * dx;
    on_b->y -= push * dy;
    return (far - d) * (far - d);
}

/* The strain of a disc in a round room. */
static inline double round_strain(ks_strain *strain, const ks_bound *bound, const ks_lie *lie,
                                  ks_pull *pull)
{
    const ks_core *wall = &strain->pile->kit->walls[bound->wall];
    double dx = lie->x - wall->x[0], dy = lie->y - wall->y[0];
    double d = sqrt(dx * dx + dy * dy), over = d - bound->allowed + wall_aim(strain);
    if (over <= 0)
        return 0;
    double push = disc_push(over, d, &dx, &strain->worst_mm);
    pull->x += push * dx;
    pull->y += push * dy;
    return over * over;
}

static inline double surroundings_strain(ks_strain *strain, int i, ks_pull *pull)
{
    const ks_kind *kind = &strain->pile->kit->kinds[strain->pile->kind[i]];
    double sum = kind->in_round && !strain->contacts
                     ? round_strain(strain, kind->bounds, &strain->pile->lie[i], pull)
                     : wall_strain(strain, i, pull);
    for (int f = 0; f < strain->pile->kit->n_fixtures; f++)
        sum += fixture_strain(strain, i, f, pull);
    return sum;
}

static double pairs_strain(ks_strain *strain)
{
    const ks_lie *lie = strain->pile->lie;
    const struct ks_pair *pair = strain->pairs, *end = pair + strain->n_pairs;
    ks_pull *pull = strain->pull;
    double sum = 0, worst_mm = 0, aim_mm = strain->aim_mm;
    bool listing = strain->contacts != NULL;
    for (; pair < end; pair++)
        if (pair->discs && !listing)
            sum += discs_strain(&lie[pair->i], &lie[pair->j], pair->far + aim_mm, &pull[pair->i],
                                &pull[pair->j], &worst_mm);
        else
            sum += pair_strain(strain, pair, &pull[pair->i], &pull[pair->j]);
    strain->worst_mm = fmax(strain->worst_mm, worst_mm);
    return sum;
}

double ks_strain_all(ks_strain *strain)
{
    int n = strain->pile->n;
    double sum = 0;
    strain->worst_mm = 0;
    strain->post_pull = 0;
    *strain->work += strain->n_pairs + n;
    for (int i = 0; i < n; i++) {
        strain->pull[i] = (ks_pull){0, 0, 0};
        sum += surroundings_strain(strain, i, &strain->pull[i]);
    }
    sum += pairs_strain(strain);
    return strain->n_hands > 0 ? sum + ks_strain_hands(strain) : sum;
}

/* Of body i alone; no more is added up than is enough. */
static double strain_of_one(ks_strain *strain, int i, ks_pull *pull, double enough)
{
    const ks_pile *pile = strain->pile;
    ks_pull own = {0, 0, 0}, others = {0, 0, 0};
    strain->worst_mm = 0;
    double sum = surroundings_strain(strain, i, &own);
    int j = 0;
    for (; j < pile->n && sum < enough; j++) {
        if (j == i)
            continue;
        const ks_meetings *m = ks_kit_meetings(pile->kit, pile->kind[i], pile->kind[j]);
        struct ks_pair pair = {i, j, m->points, m->far, m};
        if (m->points && !strain->contacts)
            sum += discs_strain(&pile->lie[i], &pile->lie[j], m->far + strain->aim_mm, &own,
                                &others, &strain->worst_mm);
        else if (m->n > 0)
            sum += pair_strain(strain, &pair, &own, &others);
    }
    *strain->work += j / 2 + 1;
    if (pull)
        *pull = own;
    return sum;
}

double ks_strain_one(ks_strain *strain, int i, ks_pull *pull)
{
    return strain_of_one(strain, i, pull, INFINITY);
}

double ks_strain_below(ks_strain *strain, int i, double enough)
{
    return strain_of_one(strain, i, NULL, enough);
}

double ks_strain_pair(ks_strain *strain, const struct ks_pair *pair)
{
    ks_pull on_i = {0, 0, 0}, on_j = {0, 0, 0};
    *strain->work += 1;
    return pair_strain(strain, pair, &on_i, &on_j);
}
