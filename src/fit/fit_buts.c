/* What is wrong with a form that has room: it falls, breaks its shelf, outgrows its slab, or cannot
 * be lifted by those at hand. */
#include "base/language.h"
#include "fit/fit_ask.h"
#include "studio/display.h"
#include "studio/lifting.h"
#include "studio/parts.h"
#include "studio/reason_words.h"
#include "studio/shelf_strength.h"

#include <math.h>

const char *ks_fit_fault_name(ks_fit_fault fault)
{
    static const char *const names[KS_FIT_FAULTS] = {
        [KS_FIT_FALLS] = KS_WORDS("falls"),
        [KS_FIT_BREAKS_SHELF] = KS_WORDS("breaks its shelf"),
        [KS_FIT_OUTGROWS_SLAB] = KS_WORDS("outgrows its slab"),
        [KS_FIT_TOO_HEAVY] = KS_WORDS("too heavy to lift so"),
    };
    return names[fault];
}

static void add_but(ks_fit_answer *out, ks_fit_fault fault, const char *by, ks_reason cure)
{
    out->buts[out->n_buts++] = (ks_fit_but){fault, by, cure};
}

/* What weighs is rounded up and what bears is rounded down, so that they never look alike. */
static const char *weighs(const ks_fit_question *q, double kg)
{
    return ks_show_burden(&q->order->display, kg, 1, q->arena);
}

static const char *bears(const ks_fit_question *q, double kg)
{
    return ks_show_burden(&q->order->display, kg, -1, q->arena);
}

/* As placing holds and tells it. */
static void judge_standing(const ks_fit_question *q, ks_fit_answer *out)
{
    static const ks_reason falls = {.name = KS_WHY_FALLS};
    double stands_by = out->care.stands_tilted_mm;
    if (stands_by < 0)
        add_but(out, KS_FIT_FALLS, ks_reason_words(&falls, &q->order->display, q->arena),
                ks_piece_upheld(stands_by));
}

static bool bears_made(const ks_fit_question *q, const ks_shelf_kind *shelf, double bending,
                       const char *material, double density_part, double thickness_mm,
                       double mass_kg)
{
    ks_shelf_kind other = *shelf;
    other.material = material;
    other.condition = "";
    other.safe_load_kg = 0;
    other.thickness_mm = thickness_mm;
    other.mass_kg = shelf->mass_kg * density_part * thickness_mm / shelf->thickness_mm;
    return ks_shelf_bears_kg(&other, q->firing, bending, 1) >= mass_kg;
}

/* The same shelf sound and thicker, in steps of one millimetre, or of silicon carbide, which is
 * half as heavy again. */
static ks_reason stronger_shelf(const ks_fit_question *q, const ks_shelf_kind *shelf,
                                double bending, double mass_kg)
{
    const double thickest_mm = 40; /* no thicker shelf is sold, from memory */
    ks_reason cure = {.material = shelf->material ? shelf->material : KS_WORDS("its kind")};
    for (double h = shelf->thickness_mm; h <= thickest_mm && cure.length_mm == 0; h += 1)
        if (bears_made(q, shelf, bending, shelf->material, 1, h, mass_kg))
            cure.length_mm = h;
    for (double h = 8; h <= thickest_mm && cure.carbide_mm == 0; h += 1)
        if (bears_made(q, shelf, bending, "silicon carbide", 1.5, h, mass_kg))
            cure.carbide_mm = h;
    if (cure.length_mm > 0)
        cure.name = cure.carbide_mm > 0 ? KS_CHANGE_THICKER_OR_CARBIDE : KS_CHANGE_THICKER_SHELF;
    else
        cure.name = cure.carbide_mm > 0 ? KS_CHANGE_CARBIDE_SHELF : KS_CHANGE_IN_PARTS;
    return cure;
}

static void judge_shelf(const ks_fit_question *q, const ks_fit_way *way, ks_fit_answer *out)
{
    const ks_shelf_kind *shelf = &q->kiln->shelves[way->shelf];
    if (out->care.on_shelf_kg <= way->limit_kg)
        return;
    const char *by =
        ks_arena_print(q->arena, "%s on shelf %s, which bears %s in this firing",
                       weighs(q, out->care.on_shelf_kg), shelf->id, bears(q, way->limit_kg));
    add_but(out, KS_FIT_BREAKS_SHELF, by,
            stronger_shelf(q, shelf, way->bending, out->care.on_shelf_kg));
}

static void judge_slab(const ks_fit_question *q, ks_fit_answer *out)
{
    const ks_fit_setting *setting = &out->setting;
    if (setting->now_x_mm <= 0 || setting->fired_margin_mm >= 0)
        return;
    const char *kind = ks_part_kind_name(q->piece->setter.kind);
    double wider = -setting->fired_margin_mm;
    add_but(out, KS_FIT_OUTGROWS_SLAB,
            ks_arena_print(q->arena, "fired, its feet reach %s beyond the %s",
                           ks_fit_length_up(q, wider), kind),
            (ks_reason){.name = KS_CHANGE_SLAB_LARGER, .part = kind, .length_mm = wider});
}

/* As placing holds it: what is heavy is not let down farther than arms reach. */
static void judge_reach(const ks_fit_question *q, const ks_fit_way *way, ks_fit_answer *out)
{
    const ks_rules *rules = &q->order->rules;
    if (ks_arm_spare_kg(rules, q->piece, q->kiln, way->z_mm) >= 0)
        return;
    add_but(out, KS_FIT_TOO_HEAVY,
            ks_arena_print(q->arena, "%s, and let down farther than an arm of %s reaches",
                           weighs(q, q->piece->bare_mass_kg),
                           ks_show_length(&q->order->display, rules->arm_mm, q->arena)),
            (ks_reason){.name = KS_CHANGE_LONGER_ARM});
}

static void judge_lifting(const ks_fit_question *q, const ks_fit_way *way, ks_fit_answer *out)
{
    const ks_fit_care *care = &out->care;
    if (care->lifted_so) {
        judge_reach(q, way, out);
        return;
    }
    const ks_rules *rules = &q->order->rules;
    const char *at_hand =
        rules->hoist_kg > 0 ? ks_arena_print(q->arena, "a hoist for %s", bears(q, rules->hoist_kg))
                            : ks_arena_print(q->arena, "%d at hand", rules->lifters);
    ks_lift lift = {.people = care->lifters, .hoist_kg = care->hoist_kg};
    add_but(out, KS_FIT_TOO_HEAVY,
            ks_arena_print(q->arena, "%s with %s", weighs(q, care->form_kg), at_hand),
            ks_lift_needs(&lift));
}

void ks_fit_find_buts(const ks_fit_question *q, ks_fit_answer *out)
{
    const ks_fit_way *way = &out->visits[out->n_visits - 1].best;
    out->n_buts = 0;
    if (!way->possible)
        return;
    judge_standing(q, out);
    judge_shelf(q, way, out);
    judge_slab(q, out);
    judge_lifting(q, way, out);
}
