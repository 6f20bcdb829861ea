#include "kilnstow/learn.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

enum { ENOUGH_FOR_DRIFT = 5 };
#define DRIFT_SIGMAS 2.5

static bool is_among(const char *name, int n, const char *const *names)
{
    for (int i = 0; i < n; i++)
        if (strcmp(names[i], name) == 0)
            return true;
    return false;
}

/* Those with metered firings. */
static const char *kilns_of(ks_book *book, ks_arena *arena, ks_error *err)
{
    int n, n_known = 0, room = 0;
    ks_book_firing *firings;
    const char **known = NULL;
    ks_text names = {.arena = arena};
    if (ks_book_firings(book, &(ks_book_asked){0}, arena, &n, &firings, err))
        return "";
    for (int i = 0; i < n; i++) {
        if (isnan(firings[i].kwh) || is_among(firings[i].kiln, n_known, known))
            continue;
        known = KS_GROW(arena, known, n_known, &room, const char *);
        known[n_known++] = firings[i].kiln;
        ks_text_add(&names, ks_joined(names.length > 0 ? ", " : "", firings[i].kiln, "", arena));
    }
    return ks_text_end(&names);
}

ks_status ks_book_nothing_learnt(ks_book *book, const char *kiln, ks_arena *arena, ks_error *err)
{
    const char *others = kilns_of(book, arena, err);
    if (!*others)
        return ks_fail(
            err, KS_BAD_USAGE,
            "found \"%s\"; the record has no firing with a meter's reading yet: give one "
            "with \"kilnstow log add PLAN --kwh N\"",
            kiln);
    return ks_fail(err, KS_BAD_USAGE, "found \"%s\"; the record has metered firings of %s", kiln,
                   others);
}

/* The last of them that have a reading. */
static int choose(const ks_book_firing *firings, int n, int *unread, const ks_book_firing **out)
{
    int chosen = 0;
    for (int i = n - 1; i >= 0; i--) {
        *unread += isnan(firings[i].kwh);
        if (!isnan(firings[i].kwh) && chosen < KS_LEARNT_FROM)
            out[chosen++] = &firings[i];
    }
    for (int i = 0; i < chosen / 2; i++) {
        const ks_book_firing *last = out[chosen - 1 - i];
        out[chosen - 1 - i] = out[i];
        out[i] = last;
    }
    return chosen;
}

/* A plan that was fired several times is read once, so that its loads are simulated once. */
static ks_status make_metered(ks_book *book, const ks_book_firing *const *chosen, int i,
                              ks_arena *arena, ks_metered *out, ks_error *err)
{
    out[i] = (ks_metered){.options = ks_fire_default(), .meter_kwh = chosen[i]->kwh};
    out[i].options.load = chosen[i]->load - 1;
    for (int before = 0; before < i; before++)
        if (strcmp(chosen[before]->plan, chosen[i]->plan) == 0) {
            out[i].plan = out[before].plan;
            return KS_OK;
        }
    ks_plan *plan;
    ks_status status = ks_book_plan_read(book, chosen[i]->plan, arena, &plan, err);
    out[i].plan = plan;
    return status;
}

/* A straight line through how far off each firing is, by its place in the row. */
static void find_drift(ks_learnt *out)
{
    int n = out->n;
    double sxx = 0, sxy = 0, mean = 0, square = 0;
    out->drift = out->drift_sd = NAN;
    if (n < ENOUGH_FOR_DRIFT)
        return;
    for (int i = 0; i < n; i++)
        mean += out->tuning.off[i] / n;
    for (int i = 0; i < n; i++) {
        double x = i - 0.5 * (n - 1);
        sxx += x * x;
        sxy += x * out->tuning.off[i];
    }
    out->drift = sxy / sxx;
    for (int i = 0; i < n; i++) {
        double off = out->tuning.off[i] - mean - out->drift * (i - 0.5 * (n - 1));
        square += off * off;
    }
    out->drift_sd = sqrt(square / (n - 2) / sxx);
}

static void warn(ks_learnt *out, const char *text)
{
    out->warnings[out->n_warnings++] = text;
}

static void warn_of_all(ks_learnt *out, ks_arena *arena)
{
    out->warnings = KS_TAKE(arena, 4, const char *);
    if (*out->tuning.warning)
        warn(out, out->tuning.warning);
    if (out->n < 3)
        warn(out,
             "so few firings move only what the lining conducts; from three on its stored heat "
             "is told apart");
    if (out->drift > DRIFT_SIGMAS * out->drift_sd)
        warn(out,
             ks_arena_print(
                 arena,
                 "each firing draws about %.1f %% more than the one before, for the same work: "
                 "look at the elements (wear), the lid (gap) and the thermocouple",
                 100 * out->drift));
    if (out->unread > 0)
        warn(out, ks_arena_print(arena, "%d firings have no meter's reading and teach nothing here",
                                 out->unread));
}

ks_status ks_book_learn(ks_book *book, const char *kiln, ks_arena *arena, ks_learnt *out,
                        ks_error *err)
{
    int n;
    ks_book_firing *firings;
    const ks_book_firing *chosen[KS_LEARNT_FROM];
    *out = (ks_learnt){.kiln = kiln};
    ks_status status =
        ks_book_firings(book, &(ks_book_asked){.kiln = kiln}, arena, &n, &firings, err);
    if (status)
        return status;
    out->n = choose(firings, n, &out->unread, chosen);
    if (out->n == 0)
        return KS_OK;
    ks_metered *metered = KS_TAKE(arena, out->n, ks_metered);
    out->entries = KS_TAKE(arena, out->n, int);
    for (int i = 0; i < out->n && !status; i++) {
        out->entries[i] = chosen[i]->mark.n;
        status = make_metered(book, chosen, i, arena, metered, err);
    }
    if (!status)
        status = ks_fire_tune(metered, out->n, arena, &out->tuning, err);
    if (status)
        return status;
    find_drift(out);
    warn_of_all(out, arena);
    return KS_OK;
}

void ks_learnt_apply(const ks_learnt *learnt, ks_fire_options *options)
{
    if (learnt->n == 0)
        return;
    options->as_built = learnt->tuning.as_built;
    options->as_built_spread = learnt->tuning.as_built_spread;
    options->store_factor = learnt->tuning.store_factor;
    options->store_spread = learnt->tuning.store_tuned ? learnt->tuning.store_spread : 0;
    options->tuned_together = learnt->tuning.store_tuned ? learnt->tuning.together : 0;
}
