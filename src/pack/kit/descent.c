#include "pack/kit/descent.h"

#include <math.h>
#include <string.h>

#define DEGREES_PER_RADIAN 57.29577951308232

void ks_relax_init(ks_relax *relax, ks_pile *pile, int64_t *work, ks_arena *arena)
{
    int values = 3 * pile->room + 1;
    *relax = (ks_relax){.pile = pile, .room = values};
    ks_strain_init(&relax->strain, pile, work, arena);
    relax->at = KS_TAKE(arena, pile->room, int);
    double *room = KS_TAKE(arena, (5 + 2 * KS_RELAX_MEMORY) * values, double);
    double **each[] = {&relax->value, &relax->slope, &relax->old_value, &relax->old_slope,
                       &relax->way};
    for (int k = 0; k < 5; k++, room += values)
        *each[k] = room;
    for (int k = 0; k < KS_RELAX_MEMORY; k++, room += 2 * values) {
        relax->step[k] = room;
        relax->change[k] = room + values;
    }
    for (int f = 0; f < pile->kit->n_fixtures; f++)
        relax->posts_turn = relax->posts_turn || pile->kit->fixtures[f].turns;
    relax->contact_room = 20 * pile->room + 40;
    relax->contacts = KS_TAKE(arena, relax->contact_room, ks_contact);
    relax->counts = KS_TAKE(arena, relax->contact_room, bool);
    int polished = values < KS_POLISH_MOST ? values : KS_POLISH_MOST;
    relax->matrix = KS_TAKE(arena, polished * polished, double);
    relax->move = KS_TAKE(arena, polished, double);
    relax->posts_turn = relax->posts_turn && pile->kit->space.posts_free;
}

static const ks_kind *kind_of(const ks_pile *pile, int i)
{
    return &pile->kit->kinds[pile->kind[i]];
}

double ks_relax_arm(const ks_kind *kind)
{
    return 0.6 * kind->reach;
}

double ks_relax_post_arm(const ks_pile *pile)
{
    return pile->kit->box.x1 - pile->kit->box.x0;
}

static void values_taken(ks_relax *relax)
{
    const ks_pile *pile = relax->pile;
    int n = 0;
    for (int i = relax->from; i < relax->to; i++) {
        const ks_kind *kind = kind_of(pile, i);
        relax->at[i] = n;
        relax->value[n++] = pile->lie[i].x;
        relax->value[n++] = pile->lie[i].y;
        if (kind->n_turns == 0)
            relax->value[n++] = pile->lie[i].turn_deg / DEGREES_PER_RADIAN * ks_relax_arm(kind);
    }
    if (relax->turns_posts)
        relax->value[n++] = pile->post_turn_deg / DEGREES_PER_RADIAN * ks_relax_post_arm(pile);
    relax->n_values = n;
}

void ks_relax_show(ks_relax *relax)
{
    ks_pile *pile = relax->pile;
    for (int i = relax->from; i < relax->to; i++) {
        const ks_kind *kind = kind_of(pile, i);
        const double *value = relax->value + relax->at[i];
        ks_lie lie = {value[0], value[1], pile->lie[i].turn_deg};
        if (kind->n_turns == 0)
            lie.turn_deg = value[2] / ks_relax_arm(kind) * DEGREES_PER_RADIAN;
        ks_pile_move(pile, i, lie);
    }
    if (relax->turns_posts)
        ks_pile_turn_posts(pile, relax->value[relax->n_values - 1] / ks_relax_post_arm(pile) *
                                     DEGREES_PER_RADIAN);
}

/* Strain and slope at the values. */
static double measured(ks_relax *relax)
{
    const ks_pile *pile = relax->pile;
    bool one = relax->to == relax->from + 1;
    double strain =
        one ? ks_strain_one(&relax->strain, relax->from, &relax->strain.pull[relax->from])
            : ks_strain_all(&relax->strain);
    for (int i = relax->from; i < relax->to; i++) {
        double *slope = relax->slope + relax->at[i];
        const ks_kind *kind = kind_of(pile, i);
        slope[0] = relax->strain.pull[i].x;
        slope[1] = relax->strain.pull[i].y;
        if (kind->n_turns == 0)
            slope[2] = relax->strain.pull[i].turn / ks_relax_arm(kind);
    }
    if (relax->turns_posts)
        relax->slope[relax->n_values - 1] = relax->strain.post_pull / ks_relax_post_arm(pile);
    return strain;
}

static void add_to(double *a, double times, const double *b, int n)
{
    for (int i = 0; i < n; i++)
        a[i] += times * b[i];
}

/* The way downhill as the remembered steps see it. */
static void way_found(ks_relax *relax)
{
    int n = relax->n_values;
    double weight[KS_RELAX_MEMORY];
    for (int i = 0; i < n; i++)
        relax->way[i] = -relax->slope[i];
    for (int k = 0; k < relax->n_kept; k++) {
        int m = (relax->newest - k + KS_RELAX_MEMORY) % KS_RELAX_MEMORY;
        weight[m] = ks_relax_dot(relax->step[m], relax->way, n) / relax->curve[m];
        add_to(relax->way, -weight[m], relax->change[m], n);
    }
    double scale = 0.25;
    if (relax->n_kept > 0) {
        const double *change = relax->change[relax->newest];
        scale = relax->curve[relax->newest] / ks_relax_dot(change, change, n);
    }
    for (int i = 0; i < n; i++)
        relax->way[i] *= scale;
    for (int k = relax->n_kept - 1; k >= 0; k--) {
        int m = (relax->newest - k + KS_RELAX_MEMORY) % KS_RELAX_MEMORY;
        double back = ks_relax_dot(relax->change[m], relax->way, n) / relax->curve[m];
        add_to(relax->way, weight[m] - back, relax->step[m], n);
    }
}

static double longest_stride(const ks_relax *relax)
{
    double most = 0;
    for (int i = 0; i < relax->n_values; i++) {
        double stride = fabs(relax->way[i]);
        most = stride > most ? stride : most;
    }
    return most;
}

/* Remembers the step from the old values to the new; forgets all when it curves the wrong way. */
static void step_kept(ks_relax *relax)
{
    int n = relax->n_values, m = (relax->newest + 1) % KS_RELAX_MEMORY;
    for (int i = 0; i < n; i++) {
        relax->step[m][i] = relax->value[i] - relax->old_value[i];
        relax->change[m][i] = relax->slope[i] - relax->old_slope[i];
    }
    double curve = ks_relax_dot(relax->step[m], relax->change[m], n);
    if (curve <= 1e-12 * ks_relax_dot(relax->change[m], relax->change[m], n))
        return;
    relax->curve[m] = curve;
    relax->newest = m;
    relax->n_kept += relax->n_kept < KS_RELAX_MEMORY;
}

/* Lists the pairs anew when a step so long could bring two together that are not listed. Steps get
 * shorter as the strain falls, and so does the skin. */
static void listed_for(ks_relax *relax, double move_mm)
{
    if (relax->to == relax->from + 1 || relax->gone_mm + move_mm <= relax->strain.skin_mm)
        return;
    ks_strain_list(&relax->strain, 4 * move_mm);
    relax->gone_mm = 0;
}

/* One step downhill, shortened until the strain falls; false when it cannot. */
static bool stepped(ks_relax *relax)
{
    int n = relax->n_values;
    size_t bytes = (size_t)n * sizeof(double);
    way_found(relax);
    double down = ks_relax_dot(relax->way, relax->slope, n), before = relax->strain_mm2;
    if (down >= 0) {
        relax->n_kept = 0;
        way_found(relax);
        down = ks_relax_dot(relax->way, relax->slope, n);
    }
    double stride = longest_stride(relax);
    double along = stride > relax->stride_mm ? relax->stride_mm / stride : 1;
    listed_for(relax, 1.5 * along * stride);
    memcpy(relax->old_value, relax->value, bytes);
    memcpy(relax->old_slope, relax->slope, bytes);
    for (int attempt = 0; attempt < 10; attempt++, along *= 0.4) {
        memcpy(relax->value, relax->old_value, bytes);
        add_to(relax->value, along, relax->way, n);
        ks_relax_show(relax);
        relax->strain_mm2 = measured(relax);
        if (relax->strain_mm2 <= before + 1e-4 * along * down) {
            relax->gone_mm += 1.5 * along * stride;
            step_kept(relax);
            return true;
        }
    }
    return false;
}

static bool done(const ks_relax *relax)
{
    return relax->strain.worst_mm <= relax->strain.aim_mm + KS_RELAX_DONE_MM;
}

/* Whether the strain has not fallen as it does where an attempt comes to something: then it falls
 * some sixteenfold with each doubling of the steps. Most attempts are seen to fail at the start. */
static bool behind(const ks_relax *relax, const ks_relax_limits *limits, int steps)
{
    enum { EVERY = 5 };
    if (limits->excess_mm2 <= 0 || steps % EVERY != 0)
        return false;
    double n = steps > 0 ? steps : EVERY / 2.0;
    return (relax->strain_mm2 - limits->wanted_mm2) * (n * n * n * n) > limits->excess_mm2;
}

static bool descended(ks_relax *relax, ks_relax_limits limits)
{
    values_taken(relax);
    relax->n_kept = 0;
    relax->gone_mm = INFINITY;
    listed_for(relax, 2);
    relax->strain_mm2 = measured(relax);
    double mark = relax->strain_mm2;
    if (behind(relax, &limits, 0))
        return done(relax);
    for (int step = 1; step <= limits.steps && !done(relax); step++) {
        if (!stepped(relax)) {
            if (relax->n_kept == 0)
                return done(relax);
            relax->n_kept = 0;
        }
        if (behind(relax, &limits, step))
            return done(relax);
        if (step % limits.patience != 0)
            continue;
        double fallen = mark - relax->strain_mm2;
        if (relax->strain_mm2 > limits.fall * mark ||
            relax->strain_mm2 - limits.hope * fallen > limits.wanted_mm2)
            return done(relax);
        mark = relax->strain_mm2;
    }
    return done(relax);
}

bool ks_relax_down(ks_relax *relax, ks_relax_limits limits)
{
    relax->from = 0;
    relax->to = relax->pile->n;
    relax->turns_posts = relax->posts_turn;
    if (relax->to <= 1)
        return relax->to == 0 || ks_relax_one(relax, 0, limits.steps);
    return descended(relax, limits);
}

bool ks_relax_run(ks_relax *relax, ks_relax_limits limits)
{
    if (ks_relax_down(relax, limits))
        return true;
    double short_mm = relax->strain.worst_mm - relax->strain.aim_mm;
    return relax->to > 1 && short_mm < 0.01 * relax->stride_mm && ks_relax_polish(relax);
}

bool ks_relax_one(ks_relax *relax, int i, int steps)
{
    relax->from = i;
    relax->to = i + 1;
    relax->turns_posts = false;
    return descended(relax, (ks_relax_limits){steps, 6, 0.7, 0, INFINITY, 0});
}
