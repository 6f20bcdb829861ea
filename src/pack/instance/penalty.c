#include "pack/instance/penalty.h"

#include "pack/instance/nearest.h"

#include <math.h>

/* Bodies of many corners ask more than a pair evaluation: that a unit of work takes much the same
 * time whatever the shape, so many corners against corners count as one more, and of those tried
 * one by one against the edges of a wall so many. Ordinary shapes stay below both. */
enum { CORNERS_IN_A_UNIT = 256, EDGES_IN_A_UNIT = 64 };

void ks_penalty_init(ks_penalty *penalty, const ks_packing *packing, int64_t *work, ks_arena *arena)
{
    int room = packing->room;
    *penalty = (ks_penalty){.packing = packing, .work = work};
    penalty->pair_room = room * (room - 1) / 2;
    penalty->pairs = KS_TAKE(arena, penalty->pair_room, struct ks_pair);
    penalty->pull = KS_TAKE(arena, room, ks_pull);
}

void ks_penalty_list(ks_penalty *penalty, double skin_mm)
{
    const ks_packing *packing = penalty->packing;
    penalty->n_pairs = 0;
    penalty->skin_mm = skin_mm;
    *penalty->work += packing->n * packing->n / 8;
    double beyond = penalty->aim_mm + 2 * skin_mm;
    for (int i = 0; i < packing->n; i++) {
        double x = packing->place[i].x, y = packing->place[i].y;
        for (int j = 0; j < i; j++) {
            const ks_separations *m =
                ks_instance_meetings(packing->instance, packing->kind[j], packing->kind[i]);
            double dx = x - packing->place[j].x, dy = y - packing->place[j].y,
                   far = m->far + beyond;
            if (dx * dx + dy * dy < far * far && m->n > 0)
                penalty->pairs[penalty->n_pairs++] = (struct ks_pair){j, i, m->points, m->far, m};
        }
    }
}

/* What takes part in one shortfall. */
typedef struct {
    int i, j; /* -1: a wall, a fixture */
    ks_pull *on_i, *on_j;
    bool posts; /* the other is a fixture that turns */
} parties;

static inline void pull(ks_pull *pull, double by, ks_pull along)
{
    pull->x += by * along.x;
    pull->y += by * along.y;
    pull->turn += by * along.turn;
}

/* How a shortfall at (x, y) grows when the body at `place` moves along (nx, ny), or turns. */
static inline ks_pull growth(const ks_placement *place, double x, double y, double nx, double ny)
{
    return (ks_pull){nx, ny, (x - place->x) * ny - (y - place->y) * nx};
}

static void list_contact(ks_penalty *penalty, const parties *who, double short_mm, ks_pull of_i,
                         ks_pull of_j, double of_posts)
{
    if (penalty->n_contacts < penalty->contact_room)
        penalty->contacts[penalty->n_contacts++] =
            (ks_contact){who->i, who->j, short_mm, of_i, of_j, of_posts};
}

/* Takes a shortfall into pulls and contacts; returns its penalty. */
static double overlapping(ks_penalty *penalty, const parties *who, double short_mm,
                          const ks_nearest_places *touch)
{
    const ks_packing *packing = penalty->packing;
    double push = 2 * short_mm, of_posts = 0;
    ks_pull of_i = growth(&packing->place[who->i], touch->ax, touch->ay, touch->nx, touch->ny);
    ks_pull of_j = {0, 0, 0};
    pull(who->on_i, push, of_i);
    if (who->j >= 0) {
        of_j = growth(&packing->place[who->j], touch->bx, touch->by, -touch->nx, -touch->ny);
        pull(who->on_j, push, of_j);
    }
    if (who->posts) {
        of_posts = touch->by * touch->nx - touch->bx * touch->ny;
        penalty->post_pull += push * of_posts;
    }
    penalty->worst_mm = short_mm > penalty->worst_mm ? short_mm : penalty->worst_mm;
    if (penalty->contacts)
        list_contact(penalty, who, short_mm, of_i, of_j, of_posts);
    return short_mm * short_mm;
}

double ks_penalty_add(ks_penalty *penalty, int i, int j, double short_mm,
                      const ks_nearest_places *touch)
{
    parties who = {i, j, &penalty->pull[i], j >= 0 ? &penalty->pull[j] : NULL, false};
    return overlapping(penalty, &who, short_mm, touch);
}

/* Whether the circles around two cores are apart: then the cores are too. */
static inline bool cores_apart(const ks_packing *packing, const struct ks_pair *pair,
                               const ks_separation *meeting, double aim_mm)
{
    const ks_item_type *a = &packing->instance->kinds[packing->kind[pair->i]];
    const ks_item_type *b = &packing->instance->kinds[packing->kind[pair->j]];
    ks_point p = packing->core_at[pair->i * packing->instance->most_cores + meeting->a];
    ks_point q = packing->core_at[pair->j * packing->instance->most_cores + meeting->b];
    double apart = a->around[meeting->a].r + b->around[meeting->b].r + meeting->need + aim_mm;
    double dx = q.x - p.x, dy = q.y - p.y;
    return apart > 0 && dx * dx + dy * dy >= apart * apart;
}

/* Whether the circle around a core of the first is apart from that around all of the second. */
static inline bool run_apart(const ks_packing *packing, const struct ks_pair *pair,
                             const ks_separation_run *run, double aim_mm)
{
    const ks_item_type *a = &packing->instance->kinds[packing->kind[pair->i]];
    const ks_item_type *b = &packing->instance->kinds[packing->kind[pair->j]];
    ks_point p = packing->core_at[pair->i * packing->instance->most_cores + run->a];
    double apart = a->around[run->a].r + b->cores_reach + run->need + aim_mm;
    double dx = packing->place[pair->j].x - p.x, dy = packing->place[pair->j].y - p.y;
    return apart > 0 && dx * dx + dy * dy >= apart * apart;
}

/* What separations `from` to `end` of a pair add to the pulls on both, and to the penalty. */
static double run_strain(ks_penalty *penalty, const struct ks_pair *pair, const parties *who,
                         int from, int end)
{
    const ks_packing *packing = penalty->packing;
    double sum = 0;
    for (int m = from; m < end; m++) {
        const ks_separation *one = &pair->meetings->list[m];
        if (cores_apart(packing, pair, one, penalty->aim_mm))
            continue;
        ks_core of_a = ks_packing_core(packing, pair->i, one->a);
        ks_core of_b = ks_packing_core(packing, pair->j, one->b);
        *penalty->work += of_a.n * of_b.n / CORNERS_IN_A_UNIT;
        double need = one->need + penalty->aim_mm;
        ks_nearest_places touch;
        if (ks_nearest_cores(&of_a, &of_b, need, &touch))
            sum += overlapping(penalty, who, need - touch.gap, &touch);
    }
    return sum;
}

/* Both bodies' pulls and the penalty of one pair. */
static double pair_strain(ks_penalty *penalty, const struct ks_pair *pair, ks_pull *on_i,
                          ks_pull *on_j)
{
    const ks_packing *packing = penalty->packing;
    const ks_placement *a = &packing->place[pair->i], *b = &packing->place[pair->j];
    const ks_separations *all = pair->meetings;
    double dx = b->x - a->x, dy = b->y - a->y, far = all->far + penalty->aim_mm, sum = 0;
    double square = dx * dx + dy * dy;
    if (square >= far * far)
        return 0;
    parties who = {pair->i, pair->j, on_i, on_j, false};
    if (pair->discs) {
        double d = sqrt(square);
        ks_nearest_places touch = {d,   d > 0 ? dx / d : 1, d > 0 ? dy / d : 0, a->x, a->y, b->x,
                                   b->y};
        return overlapping(penalty, &who, far - d, &touch);
    }
    *penalty->work += all->n;
    for (int r = 0, m = 0; r < all->n_runs; m = all->runs[r++].end)
        if (!run_apart(packing, pair, &all->runs[r], penalty->aim_mm))
            sum += run_strain(penalty, pair, &who, m, all->runs[r].end);
    return sum;
}

static inline double wall_aim(const ks_penalty *penalty)
{
    return penalty->aim_mm + penalty->inset_mm;
}

static double corner_strain(ks_penalty *penalty, const ks_type_bound *bound, const parties *who,
                            ks_point corner)
{
    ks_nearest_places touch;
    const ks_core *wall = &penalty->packing->instance->walls[bound->wall];
    double over =
        ks_nearest_point(wall, corner.x, corner.y, &touch) - bound->allowed + wall_aim(penalty);
    touch.ax = corner.x;
    touch.ay = corner.y;
    return over > 0 ? overlapping(penalty, who, over, &touch) : 0;
}

/* Against a sharp wall each edge counts by itself, so that a corner of the room pushes both ways.
 */
static double edges_strain(ks_penalty *penalty, const ks_type_bound *bound, const parties *who,
                           ks_point corner)
{
    const ks_core *wall = &penalty->packing->instance->walls[bound->wall];
    double sum = 0;
    for (int k = 0; k < wall->n; k++) {
        double over = wall->nx[k] * (corner.x - wall->x[k]) +
                      wall->ny[k] * (corner.y - wall->y[k]) - bound->allowed + wall_aim(penalty);
        ks_nearest_places touch = {0, wall->nx[k], wall->ny[k], corner.x, corner.y, 0, 0};
        if (over > 0)
            sum += overlapping(penalty, who, over, &touch);
    }
    return sum;
}

/* Far more than rounding, far less than matters: a circle this far within needs no closer look. */
#define SURELY_MM 1e-6

/* Whether the circle around a core is within the wall: then each of its corners is. */
static bool core_within(const ks_penalty *penalty, int i, const ks_type_bound *bound)
{
    const ks_packing *packing = penalty->packing;
    const ks_core *wall = &packing->instance->walls[bound->wall];
    ks_point at = packing->core_at[i * packing->instance->most_cores + bound->core];
    double r = packing->instance->kinds[packing->kind[i]].around[bound->core].r;
    double most = bound->allowed - wall_aim(penalty) - r - SURELY_MM;
    if (wall->n == 1) {
        double dx = at.x - wall->x[0], dy = at.y - wall->y[0];
        return most >= 0 && dx * dx + dy * dy <= most * most;
    }
    for (int k = 0; k < wall->n; k++)
        if (wall->nx[k] * (at.x - wall->x[k]) + wall->ny[k] * (at.y - wall->y[k]) > fmin(most, 0))
            return false;
    return true;
}

static double wall_strain(ks_penalty *penalty, int i, ks_pull *pull)
{
    const ks_packing *packing = penalty->packing;
    const ks_item_type *kind = &packing->instance->kinds[packing->kind[i]];
    parties who = {i, -1, pull, NULL, false};
    double sum = 0;
    for (int k = 0; k < kind->n_bounds; k++) {
        const ks_type_bound *bound = &kind->bounds[k];
        if (core_within(penalty, i, bound))
            continue;
        ks_core core = ks_packing_core(packing, i, bound->core);
        int edges = packing->instance->walls[bound->wall].n;
        bool sharp = bound->allowed <= 0 && edges > 2;
        *penalty->work += core.n * edges / EDGES_IN_A_UNIT;
        for (int c = 0; c < core.n; c++) {
            ks_point corner = {core.x[c], core.y[c]};
            sum += sharp ? edges_strain(penalty, bound, &who, corner)
                         : corner_strain(penalty, bound, &who, corner);
        }
    }
    return sum;
}

/* Whether the circle around a core is apart from the one around the fixture. */
static bool clear_of_fixture(const ks_penalty *penalty, int i, int f, const ks_separation *meeting)
{
    const ks_packing *packing = penalty->packing;
    ks_point at = packing->core_at[i * packing->instance->most_cores + meeting->a];
    double apart = packing->instance->kinds[packing->kind[i]].around[meeting->a].r +
                   packing->instance->fixtures[f].reach + meeting->need + penalty->aim_mm +
                   SURELY_MM;
    double dx = packing->fixture_at[f].x - at.x, dy = packing->fixture_at[f].y - at.y;
    return apart > 0 && dx * dx + dy * dy >= apart * apart;
}

static double fixture_strain(ks_penalty *penalty, int i, int f, ks_pull *pull)
{
    const ks_packing *packing = penalty->packing;
    const ks_item_type *kind = &packing->instance->kinds[packing->kind[i]];
    const ks_separations *all = &kind->by_fixture[f];
    const ks_placement *place = &packing->place[i];
    double dx = packing->fixture_at[f].x - place->x, dy = packing->fixture_at[f].y - place->y;
    double far = all->far + penalty->aim_mm, sum = 0;
    if (all->n == 0 || dx * dx + dy * dy >= far * far)
        return 0;
    parties who = {i, -1, pull, NULL, packing->instance->fixtures[f].turns};
    for (int m = 0; m < all->n; m++) {
        if (clear_of_fixture(penalty, i, f, &all->list[m]))
            continue;
        ks_core core = ks_packing_core(packing, i, all->list[m].a);
        double need = all->list[m].need + penalty->aim_mm;
        *penalty->work += core.n * packing->fixtures[f].n / CORNERS_IN_A_UNIT;
        ks_nearest_places touch;
        if (ks_nearest_cores(&core, &packing->fixtures[f], need, &touch))
            sum += overlapping(penalty, &who, need - touch.gap, &touch);
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

/* The pair penalty of two discs. */
static inline double discs_strain(const ks_placement *a, const ks_placement *b, double far,
                                  ks_pull *on_a, ks_pull *on_b, double *worst_mm)
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

/* The penalty of a disc in a round room. */
static inline double round_strain(ks_penalty *penalty, const ks_type_bound *bound,
                                  const ks_placement *place, ks_pull *pull)
{
    const ks_core *wall = &penalty->packing->instance->walls[bound->wall];
    double dx = place->x - wall->x[0], dy = place->y - wall->y[0];
    double d = sqrt(dx * dx + dy * dy), over = d - bound->allowed + wall_aim(penalty);
    if (over <= 0)
        return 0;
    double push = disc_push(over, d, &dx, &penalty->worst_mm);
    pull->x += push * dx;
    pull->y += push * dy;
    return over * over;
}

static inline double surroundings_strain(ks_penalty *penalty, int i, ks_pull *pull)
{
    const ks_item_type *kind = &penalty->packing->instance->kinds[penalty->packing->kind[i]];
    double sum = kind->in_round && !penalty->contacts
                     ? round_strain(penalty, kind->bounds, &penalty->packing->place[i], pull)
                     : wall_strain(penalty, i, pull);
    for (int f = 0; f < penalty->packing->instance->n_fixtures; f++)
        sum += fixture_strain(penalty, i, f, pull);
    return sum;
}

static double pairs_strain(ks_penalty *penalty)
{
    const ks_placement *place = penalty->packing->place;
    const struct ks_pair *pair = penalty->pairs, *end = pair + penalty->n_pairs;
    ks_pull *pull = penalty->pull;
    double sum = 0, worst_mm = 0, aim_mm = penalty->aim_mm;
    bool listing = penalty->contacts != NULL;
    for (; pair < end; pair++)
        if (pair->discs && !listing)
            sum += discs_strain(&place[pair->i], &place[pair->j], pair->far + aim_mm,
                                &pull[pair->i], &pull[pair->j], &worst_mm);
        else
            sum += pair_strain(penalty, pair, &pull[pair->i], &pull[pair->j]);
    penalty->worst_mm = fmax(penalty->worst_mm, worst_mm);
    return sum;
}

double ks_penalty_all(ks_penalty *penalty)
{
    int n = penalty->packing->n;
    double sum = 0;
    penalty->worst_mm = 0;
    penalty->post_pull = 0;
    *penalty->work += penalty->n_pairs + n;
    for (int i = 0; i < n; i++) {
        penalty->pull[i] = (ks_pull){0, 0, 0};
        sum += surroundings_strain(penalty, i, &penalty->pull[i]);
    }
    sum += pairs_strain(penalty);
    return penalty->n_hands > 0 ? sum + ks_penalty_hands(penalty) : sum;
}

/* Of body i alone; no more is added up than is enough. */
static double penalty_of_one(ks_penalty *penalty, int i, ks_pull *pull, double enough)
{
    const ks_packing *packing = penalty->packing;
    ks_pull own = {0, 0, 0}, others = {0, 0, 0};
    penalty->worst_mm = 0;
    double sum = surroundings_strain(penalty, i, &own);
    int j = 0;
    for (; j < packing->n && sum < enough; j++) {
        if (j == i)
            continue;
        const ks_separations *m =
            ks_instance_meetings(packing->instance, packing->kind[i], packing->kind[j]);
        struct ks_pair pair = {i, j, m->points, m->far, m};
        if (m->points && !penalty->contacts)
            sum += discs_strain(&packing->place[i], &packing->place[j], m->far + penalty->aim_mm,
                                &own, &others, &penalty->worst_mm);
        else if (m->n > 0)
            sum += pair_strain(penalty, &pair, &own, &others);
    }
    *penalty->work += j / 2 + 1;
    if (pull)
        *pull = own;
    return sum;
}

double ks_penalty_one(ks_penalty *penalty, int i, ks_pull *pull)
{
    return penalty_of_one(penalty, i, pull, INFINITY);
}

double ks_penalty_below(ks_penalty *penalty, int i, double enough)
{
    return penalty_of_one(penalty, i, NULL, enough);
}

double ks_penalty_pair(ks_penalty *penalty, const struct ks_pair *pair)
{
    ks_pull on_i = {0, 0, 0}, on_j = {0, 0, 0};
    *penalty->work += 1;
    return pair_strain(penalty, pair, &on_i, &on_j);
}
