#include "cli/fit_told.h"
#include "cli/summary.h"

#include "base/text.h"
#include "studio/display.h"
#include "studio/left_out.h"
#include "studio/reason_words.h"
#include "studio/lifting.h"

#include <math.h>
#include <stdio.h>

typedef struct {
    const ks_fit_outcome *outcome;
    const ks_fit_answer *answer;
    ks_arena *arena;
} telling;

static const char *length(const telling *t, double mm)
{
    return ks_quantity_print(KS_LENGTH, mm, t->outcome->order->display.length, t->arena);
}

static const char *mass(const telling *t, double kg)
{
    return ks_quantity_print(KS_MASS, kg, t->outcome->order->display.mass, t->arena);
}

/* No finer than scales and strengths are known: what weighs to the nearest, what bears downwards.
 */
static const char *burden(const telling *t, double kg)
{
    return ks_show_burden(&t->outcome->order->display, kg, 0, t->arena);
}

static const char *borne(const telling *t, double kg)
{
    return ks_show_burden(&t->outcome->order->display, kg, -1, t->arena);
}

/* Rounded so that no room is promised which is not there, and no travel is more than told. */
static const char *spare(const telling *t, double mm)
{
    return ks_show_spare(&t->outcome->order->display, mm, t->arena);
}

/* What a tape finds: whole millimetres, or sixteenths of an inch, downwards or upwards. */
static double step_of(const telling *t)
{
    const char *unit = t->outcome->order->display.length;
    return unit && unit[0] == 'i' ? 25.4 / 16 : 1;
}

static const char *down(const telling *t, double mm)
{
    double step = step_of(t);
    return ks_show_length(&t->outcome->order->display, floor(mm / step + 1e-6) * step, t->arena);
}

static const char *up(const telling *t, double mm)
{
    double step = step_of(t);
    return ks_show_length(&t->outcome->order->display, ceil(mm / step - 1e-6) * step, t->arena);
}

static const char *at_most(const telling *t, double mm)
{
    return ks_show_lack(&t->outcome->order->display, mm, t->arena);
}

/* "94 mm ± 3 mm"; with a tape finer than a millimetre both to its tenth. */
static const char *give_or_take(const telling *t, double mm, double error_mm)
{
    if (error_mm < 1)
        return ks_arena_print(t->arena, "%s ± %s", spare(t, mm), at_most(t, error_mm));
    return ks_arena_print(t->arena, "%s ± %s", down(t, mm), up(t, error_mm));
}

static void tell_stand(const telling *t, const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    const ks_kiln *kiln = t->answer->kiln;
    const ks_support *support = &kiln->bays[way->bay].supports[way->support];
    const char *shelf = kiln->shelves[support->shelves[0].kind].id;
    const char *laid = support->n_shelves == 1
                           ? ks_arena_print(t->arena, "shelf %s", shelf)
                           : ks_arena_print(t->arena, "%d shelves side by side (%s, ...)",
                                            support->n_shelves, shelf);
    printf(
        "    roomiest: bay %s, on %s with its top at %s, no shelf over it;\n"
        "      stood %s to the %s and %s to the %s of the chamber's middle, turned %.0f degrees\n",
        kiln->bays[way->bay].id, laid, length(t, way->z_mm), down(t, fabs(way->stand.x) + 0.5),
        way->stand.x < 0 ? ks_tr("left") : ks_tr("right"), down(t, fabs(way->stand.y) + 0.5),
        way->stand.y < 0 ? ks_tr("front") : ks_tr("back"), way->stand.turn_deg);
    printf("    to spare beyond all clearances: %s around, nearest the %s; %s above\n",
           give_or_take(t, way->around_mm, visit->error_around_mm), way->tightest,
           give_or_take(t, way->above_mm, visit->error_above_mm));
}

static void tell_company(const telling *t, const ks_fit_visit *visit)
{
    const ks_fit_way *under = &visit->under_shelf;
    printf("    other levels, below or above it: %s of height, their shelves included\n",
           down(t, fmax(0, visit->best.above_mm)));
    if (under->possible)
        printf("    a shelf can go over it on %s of posts: %s to spare above, %s around%s\n",
               length(t, under->post_mm), down(t, under->above_mm), down(t, under->around_mm),
               under->above_mm < visit->error_above_mm || under->around_mm < visit->error_around_mm
                   ? " (less than the errors: measure again first)"
                   : "");
    else
        printf("    no shelf can go over it: take the top shelf out, and all above it\n");
    if (visit->beside_mm > 0)
        printf("    beside it there: room for a piece %s across\n", down(t, visit->beside_mm));
}

static void tell_visit(const telling *t, const ks_fit_visit *visit)
{
    printf("  %s: %s; %s at its narrowest, %s high%s\n", visit->name,
           visit->fits ? "goes in" : "does not go in",
           give_or_take(t, visit->breadth_mm, visit->error_breadth_mm),
           give_or_take(t, visit->height_mm, visit->error_above_mm),
           visit->piece->has_setter ? " with its setter" : "");
    if (visit->best.possible)
        tell_stand(t, visit);
    if (isfinite(visit->passage_mm))
        printf("    way in: %s %s\n",
               give_or_take(t, fabs(visit->passage_mm), visit->error_passage_mm),
               visit->passes ? "to spare" : "short");
    if (visit->fits)
        tell_company(t, visit);
}

static void tell_sizes(const telling *t)
{
    const ks_fit_answer *answer = t->answer;
    if (answer->largest_scale > 0)
        printf("  largest that goes in: %.1f %% of its size\n",
               floor(1000 * answer->largest_scale) / 10);
    if (answer->largest_wet_breadth_mm > 0)
        printf(
            "  building backwards: made wet at most %s at its narrowest and %s high; if the clay "
            "shrinks as little as it may, %s and %s\n",
            length(t, answer->largest_wet_breadth_mm), length(t, answer->largest_wet_height_mm),
            length(t, answer->sure_wet_breadth_mm), length(t, answer->sure_wet_height_mm));
}

static void tell_setting(const telling *t)
{
    const ks_fit_setting *setting = &t->answer->setting;
    if (setting->now_x_mm <= 0)
        return;
    const ks_setter *setter = &t->outcome->order->pieces[t->answer->piece].setter;
    const char *kind = ks_part_kind_name(setter->kind);
    printf("  %s: %s x %s, %s thick as it goes in", kind, length(t, setting->now_x_mm),
           length(t, setting->now_y_mm), length(t, setting->now_thick_mm));
    if (setting->wet_x_mm > 0)
        printf("; cut wet %s x %s, %s thick (%.0f to %.0f %% of that by its shrinkage)",
               length(t, setting->wet_x_mm), length(t, setting->wet_y_mm),
               length(t, setting->wet_thick_mm), 100 * setting->wet_low, 100 * setting->wet_high);
    if (setting->fired_margin_mm >= 0)
        printf("; fired it still reaches %s beyond the feet at the worst\n",
               spare(t, setting->fired_margin_mm));
    else
        printf("; TOO SMALL: fired the feet reach %s beyond it at the worst\n",
               at_most(t, -setting->fired_margin_mm));
    if (setting->under_litres + setting->over_litres > 0)
        printf("  %s: %.2f l under the %s and %.2f l over it, %s in all\n",
               setter->bed_material ? setter->bed_material : "grog", setting->under_litres, kind,
               setting->over_litres, mass(t, setting->grog_kg));
}

static void tell_travel(const telling *t)
{
    const ks_fit_care *care = &t->answer->care;
    const ks_travel *with = &care->travel, *without = &care->bare_travel;
    bool setter = t->answer->setting.now_x_mm > 0;
    printf("  feet: first outward %s, then inward %s to %s, %s if one is held fast%s\n",
           at_most(t, with->outward_mm), spare(t, with->expected_low_mm),
           at_most(t, with->expected_high_mm), at_most(t, with->worst_high_mm),
           setter ? ", over their setter" : ", over the shelf");
    if (setter)
        printf("    straight on the shelf they would travel %s to %s, %s at the worst; the "
               "setter's rim travels %s to %s over it instead\n",
               spare(t, without->expected_low_mm), at_most(t, without->expected_high_mm),
               at_most(t, without->worst_high_mm), spare(t, with->slab_rim_low_mm),
               at_most(t, with->slab_rim_high_mm));
}

/* Rounded as the verdict rounds it: what is outside up. */
static void tell_standing(const telling *t)
{
    const ks_display *display = &t->outcome->order->display;
    double level = t->answer->care.stands_by_mm, tilted = t->answer->care.stands_tilted_mm;
    const char *beyond = ks_show_length_up(display, -tilted, t->arena);
    if (level < 0)
        printf("  IT FALLS: its weight is %s outside its feet, %s on a shelf tilted by 5 degrees\n",
               ks_show_length_up(display, -level, t->arena), beyond);
    else if (tilted < 0)
        printf("  IT FALLS: on a level shelf its weight is %s within its feet, on one tilted by 5 "
               "degrees %s outside them\n",
               length(t, level), beyond);
    else
        printf("  stands %s within its feet, %s on a shelf tilted by 5 degrees%s\n",
               length(t, level), length(t, tilted), tilted < 10 ? ": prop it" : "");
}

static void tell_shelf(const telling *t)
{
    const ks_fit_care *care = &t->answer->care;
    const ks_fit_way *way = &t->answer->visits[t->answer->n_visits - 1].best;
    printf("  shelf %s: %s on it%s; ", care->shelf, burden(t, care->on_shelf_kg),
           care->shelves > 1 ? ", as on each that it stands on" : "");
    if (isinf(way->limit_kg)) {
        printf("it lies on the floor, or what it bears is not known\n");
        return;
    }
    printf("spread over it, it bears %s in this firing on its posts", borne(t, way->limit_kg));
    if (way->bears_low_kg < way->limit_kg)
        printf(", %s if its material is as weak as it may be", borne(t, way->bears_low_kg));
    printf("%s\n", care->on_shelf_kg > way->limit_kg ? ": TOO MUCH" : "");
    if (care->shelf_stress_mpa > 0 && care->shelf_allowed_mpa > 0)
        printf(
            "    standing where it does it strains the shelf to %.2f MPa; for long it bears %.2f "
            "(guidance only)%s\n",
            care->shelf_stress_mpa, care->shelf_allowed_mpa,
            care->may_sag ? ": it may sag, so take a better one" : "");
}

static void tell_lifting(const telling *t)
{
    const ks_fit_care *care = &t->answer->care;
    printf("  lifting: %s bare, %s with its setter, %s with the shelf too\n",
           burden(t, care->form_kg), burden(t, care->lifted_kg), burden(t, care->with_shelf_kg));
    printf("    over %s to the middle of the kiln: %s", length(t, care->reach_mm), care->who);
    if (care->lifters == 0)
        printf(", with a sling under a board; %d people may lift %s together", KS_LIFTERS_MOST,
               borne(t, care->team_kg));
    if (care->limit_kg > 0)
        printf(" (one person may lift %s so)\n", borne(t, care->limit_kg));
    else
        printf(" (too far for one person to lift anything)\n");
}

/* What to do in which order, and what to take care of. */
static void tell_order_of_setting(const telling *t)
{
    const ks_setter *setter = &t->outcome->order->pieces[t->answer->piece].setter;
    if (t->answer->setting.now_x_mm <= 0)
        return;
    const char *kind = ks_part_kind_name(setter->kind);
    const char *bed = setter->bed_material ? setter->bed_material : "grog";
    printf("  set it so: %s %s, the %s, %s %s on it, then the form; nothing else on the %s, and "
           "nothing "
           "against it\n",
           length(t, setter->bed_under_mm), bed, kind, length(t, setter->bed_over_mm), bed, kind);
    printf("    caution: dust of dry %s harms the lungs: spread it damp, or with a mask\n", bed);
}

/* YES or NO first, so that a list of many reads down its left edge. */
static void tell_verdict(const telling *t)
{
    const ks_fit_answer *answer = t->answer;
    printf("%s: %s in kiln %s: %s\n", answer->head, t->outcome->order->pieces[answer->piece].id,
           answer->kiln->id, answer->verdict);
}

static void tell_changes(const telling *t)
{
    const ks_fit_answer *answer = t->answer;
    int n = t->outcome->brief && answer->n_changes > 1 ? 1 : answer->n_changes;
    for (int i = 0; i < n; i++)
        printf("  %s %s\n", i == 0 ? "would fit with:" : "            or:",
               ks_reason_words(&answer->changes[i], &t->outcome->order->display, t->arena));
    if (!answer->fits && n == 0)
        printf("  no change was found that would make it fit\n");
}

static const char *within(const telling *t, double mm)
{
    return ks_arena_print(t->arena, "%s %s", length(t, round(fabs(mm) * 2) / 2),
                          mm < 0 ? "beyond" : "within");
}

static void tell_joint(const telling *t)
{
    const ks_fit_joint *joint = &t->answer->joint;
    if (!joint->to)
        return;
    printf("  joined to %s when both are fired: its foot then ends about %s that one's top all "
           "round",
           joint->to, within(t, joint->within_mm));
    if (joint->high_mm - joint->low_mm >= 0.5)
        printf(" (%s to %s, by how the clays may shrink)", within(t, joint->low_mm),
               within(t, joint->high_mm));
    printf("\n");
}

static void tell_answer(const telling *t)
{
    const ks_fit_answer *answer = t->answer;
    tell_verdict(t);
    tell_changes(t);
    if (t->outcome->brief)
        return;
    printf("  kiln %s: %s\n", answer->kiln->id, answer->kiln->name);
    for (int v = 0; v < answer->n_visits; v++)
        tell_visit(t, &answer->visits[v]);
    if (*answer->assumed)
        printf("  assumed: %s\n", answer->assumed);
    tell_sizes(t);
    tell_joint(t);
    tell_setting(t);
    if (!answer->care.shelf)
        return;
    tell_travel(t);
    tell_standing(t);
    tell_shelf(t);
    tell_lifting(t);
    tell_order_of_setting(t);
}

/* Of those not asked about, how many of each kind wait. */
static const char *waiting_words(const ks_fit_load *load, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    for (int i = 0; i < load->plan->n_left_out; i++) {
        const ks_left_out *left = &load->plan->left_out[i];
        if (left->piece >= load->n_named)
            ks_text_print(&words, "%s%d %s", words.length > 0 ? ", " : "", left->count, left->id);
    }
    return ks_text_end(&words);
}

static void tell_load(const ks_fit_load *load, ks_arena *arena)
{
    printf("kiln %s, planned as one load: %d of the %d named go in together", load->kiln->id,
           load->named_in, load->n_named);
    if (load->others > 0)
        printf(", and %d of %d others with them (worth %s)", load->others_in, load->others,
               ks_summary_of_worth(load->plan, load->others_worth, arena));
    printf("\n");
    for (int i = 0; i < load->plan->n_left_out; i++) {
        const ks_left_out *left = &load->plan->left_out[i];
        if (left->piece >= 0 && left->piece < load->n_named)
            printf("  %s waits: %s\n", left->id,
                   ks_left_out_why(left, &load->plan->order->display, arena));
    }
    if (load->others_in < load->others)
        printf("  for another load: %s\n", waiting_words(load, arena));
    if (load->written)
        printf("  written: %s, for check, fire, cost and draw\n", load->written);
}

void ks_fit_print(const ks_fit_outcome *outcome, ks_arena *arena)
{
    for (int k = 0; k < outcome->n_largest; k++)
        ks_fit_print_largest(outcome, &outcome->largest[k], arena);
    ks_fit_print_kilns(outcome, arena);
    for (int i = 0; i < outcome->n_answers && outcome->n_rows == 0; i++)
        tell_answer(&(telling){outcome, &outcome->answers[i], arena});
    if (outcome->brief)
        printf("for one piece in full: --piece ID\n");
    for (int i = 0; i < outcome->n_pairs; i++) {
        const ks_fit_pair *pair = &outcome->pairs[i];
        printf("%s and %s in kiln %s: %s\n", outcome->order->pieces[pair->a].id,
               outcome->order->pieces[pair->b].id, pair->kiln->id,
               pair->together ? "can share a level" : "no way found to share a level");
    }
    for (int i = 0; i < outcome->n_loads; i++)
        tell_load(&outcome->loads[i], arena);
    for (int i = 0; i < outcome->drawn.drawing.n_files; i++)
        printf("drawn: %s\n", outcome->drawn.paths[i]);
}
