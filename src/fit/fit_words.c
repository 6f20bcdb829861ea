/* The verdict: its first words, and what follows in one sentence. */
#include "fit/fit_ask.h"

#include "base/language.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

/* A double's last bits do not make a piece too large. */
static const double too_little_mm = 1e-7;

/* No finer than sizes are known: in steps of 10 mm what is far, of 5 mm from 100 down, of 1 mm
 * below 20; to the tenth where the tape is nearly as good. */
#define FINE_MM 0.5

static double step_mm(double mm, double error_mm)
{
    if (error_mm < FINE_MM)
        return 0.1;
    return mm >= 100 ? 10 : mm >= 20 ? 5 : 1;
}

const char *ks_fit_length_up(const ks_fit_question *q, double mm)
{
    return ks_show_length_up(&q->order->display, mm, q->arena);
}

/* "less than 1 mm": what no tape tells from nothing. */
static const char *hardly(const ks_fit_question *q)
{
    return ks_arena_print(q->arena, "less than %s", ks_fit_length_up(q, 1));
}

static const char *told_spare(const ks_fit_question *q, double mm, double error_mm)
{
    double step = step_mm(fabs(mm), error_mm);
    if (step < 1)
        return ks_show_spare(&q->order->display, mm, q->arena);
    if (mm >= 0 && mm < step)
        return hardly(q);
    return ks_show_length(&q->order->display, floor(mm / step + 1e-6) * step, q->arena);
}

static const char *told_short(const ks_fit_question *q, double mm, double error_mm)
{
    if (error_mm < FINE_MM)
        return ks_show_lack(&q->order->display, mm, q->arena);
    return mm < 1 ? hardly(q) : ks_fit_length_up(q, mm);
}

static const char *short_words(const ks_fit_question *q, const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    if (!way->possible)
        return "the kiln's stock makes no shelf for it";
    const char *around = told_short(q, -way->around_mm, visit->error_around_mm);
    const char *above = told_short(q, -way->above_mm, visit->error_above_mm);
    bool wide = -way->around_mm > too_little_mm, tall = -way->above_mm > too_little_mm;
    if (wide && tall)
        return ks_arena_print(q->arena, "%s too wide at the %s and %s too tall", around,
                              way->tightest, above);
    if (wide)
        return ks_arena_print(q->arena, "%s too wide at the %s, at its best turn and place", around,
                              way->tightest);
    if (tall)
        return ks_arena_print(q->arena, "%s too tall", above);
    return ks_arena_print(q->arena, "there is room inside, but the way in is %s too small",
                          told_short(q, -visit->passage_mm, visit->error_passage_mm));
}

/* Of the three spares, the one that errors bring nearest to nothing. */
typedef struct {
    double spare_mm, error_mm;
    const char *where, *again;
} tight_spot;

static tight_spot tightest_of(const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    tight_spot spots[] = {
        {way->around_mm, visit->error_around_mm, "around",
         way->tight_at_base ? "its base" : "its widest place"},
        {way->above_mm, visit->error_above_mm, "above", "its height"},
        {visit->passage_mm, visit->error_passage_mm, "on its way in", "its breadth and height"}};
    tight_spot worst = spots[0];
    for (int i = 1; i < 3; i++)
        if (spots[i].spare_mm - spots[i].error_mm < worst.spare_mm - worst.error_mm)
            worst = spots[i];
    return worst;
}

static const char *head_of(ks_fit_fault fault)
{
    static const char *const heads[KS_FIT_FAULTS] = {
        [KS_FIT_FALLS] = KS_WORDS("GOES IN, BUT FALLS"),
        [KS_FIT_BREAKS_SHELF] = KS_WORDS("GOES IN, BUT BREAKS ITS SHELF"),
        [KS_FIT_OUTGROWS_SLAB] = KS_WORDS("GOES IN, BUT OUTGROWS ITS SLAB"),
        [KS_FIT_TOO_HEAVY] = KS_WORDS("GOES IN, BUT IS TOO HEAVY TO LIFT SO"),
    };
    return heads[fault];
}

const char *ks_fit_head(const ks_fit_answer *out)
{
    if (!out->goes_in)
        return KS_WORDS("NO");
    if (out->n_buts > 0)
        return head_of(out->buts[0].fault);
    if (!out->surely)
        return KS_WORDS("YES, BUT MEASURE AGAIN");
    return out->care.may_sag ? KS_WORDS("YES, BUT ITS SHELF MAY SAG") : KS_WORDS("YES");
}

/* The tightest firing; of what does not go in, one in which it does not. */
static const ks_fit_visit *told_visit(const ks_fit_answer *out)
{
    const ks_fit_visit *visit = &out->visits[out->tightest];
    for (int v = 0; !out->goes_in && visit->fits && v < out->n_visits; v++)
        visit = &out->visits[v];
    return visit;
}

/* Whether it goes in after all, if sizes are out in its favour. */
static bool may_go_in(const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    return way->possible && way->around_mm + visit->error_around_mm >= 0 &&
           way->above_mm + visit->error_above_mm >= 0 &&
           visit->passage_mm + visit->error_passage_mm >= 0;
}

static const char *why_not(const ks_fit_question *q, const ks_fit_answer *out)
{
    const ks_fit_visit *visit = told_visit(out);
    const char *words = ks_arena_print(q->arena, "does not go in, in the %s: %s", visit->name,
                                       short_words(q, visit));
    tight_spot spot = tightest_of(visit);
    return may_go_in(visit)
               ? ks_arena_print(q->arena,
                                "%s; sizes may be %s out: measure %s again before you give it up",
                                words, ks_fit_length_up(q, spot.error_mm), spot.again)
               : words;
}

static const char *room_words(const ks_fit_question *q, const ks_fit_answer *out)
{
    const ks_fit_visit *visit = &out->visits[out->tightest];
    const ks_fit_way *way = &visit->best;
    tight_spot spot = tightest_of(visit);
    if (!out->surely)
        return ks_arena_print(
            q->arena, "goes in by %s %s in the %s, and sizes may be %s out: measure %s again",
            told_spare(q, spot.spare_mm, spot.error_mm), spot.where, visit->name,
            ks_fit_length_up(q, spot.error_mm), spot.again);
    return ks_arena_print(q->arena,
                          "goes in with about %s to spare around and %s above in the %s; sizes may "
                          "be %s out",
                          told_spare(q, way->around_mm, visit->error_around_mm),
                          told_spare(q, way->above_mm, visit->error_above_mm), visit->name,
                          ks_fit_length_up(q, fmax(visit->error_around_mm, visit->error_above_mm)));
}

/* Nothing else goes in over it, in one of its firings. */
static bool stands_under_lid(const ks_fit_answer *out)
{
    for (int v = 0; v < out->n_visits; v++)
        if (!out->visits[v].under_shelf.possible)
            return true;
    return false;
}

static bool has_but(const ks_fit_answer *out, ks_fit_fault fault)
{
    for (int i = 0; i < out->n_buts; i++)
        if (out->buts[i].fault == fault)
            return true;
    return false;
}

/* More than one pair of hands; where those at hand do not do, the fault tells it. */
static const char *lifting_words(const ks_fit_question *q, const ks_fit_answer *out)
{
    const ks_fit_care *care = &out->care;
    if (!care->who || care->lifters == 1 || has_but(out, KS_FIT_TOO_HEAVY))
        return "";
    return ks_arena_print(q->arena, "lifting its %s takes %s; ",
                          ks_show_burden(&q->order->display, care->form_kg, 1, q->arena),
                          care->who);
}

const char *ks_fit_verdict(const ks_fit_question *q, const ks_fit_answer *out)
{
    if (!out->goes_in)
        return why_not(q, out);
    const char *words = ks_arena_print(q->arena, "%s%s", lifting_words(q, out), room_words(q, out));
    if (stands_under_lid(out))
        words = ks_arena_print(q->arena, "%s; no shelf goes over it: take the top one out", words);
    for (int i = out->n_buts - 1; i >= 0; i--)
        words = ks_arena_print(q->arena, "%s: %s; %s", ks_fit_fault_name(out->buts[i].fault),
                               out->buts[i].by, words);
    return words;
}

const char *ks_fit_margin(const ks_fit_question *q, const ks_fit_answer *out)
{
    const ks_fit_visit *visit = told_visit(out);
    if (!out->goes_in)
        return short_words(q, visit);
    if (out->n_buts > 0)
        return out->buts[0].by;
    return ks_arena_print(q->arena, "%s around, %s above",
                          told_spare(q, visit->best.around_mm, visit->error_around_mm),
                          told_spare(q, visit->best.above_mm, visit->error_above_mm));
}
