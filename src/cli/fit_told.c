#include "cli/fit_told.h"

#include "studio/display.h"

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

/* Rounded so that no room is promised which is not there, and no travel is more than told. */
static const char *spare(const telling *t, double mm)
{
    return ks_show_spare(&t->outcome->order->display, mm, t->arena);
}

static const char *at_most(const telling *t, double mm)
{
    return ks_show_lack(&t->outcome->order->display, mm, t->arena);
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
    printf("    roomiest: bay %s, on %s with its top at %s, no shelf over it;\n"
           "      its origin at x %s y %s from the chamber's middle, turned %.1f degrees\n",
           kiln->bays[way->bay].id, laid, length(t, way->z_mm), spare(t, way->stand.x),
           spare(t, way->stand.y), way->stand.turn_deg);
    printf("    around %s to spare beyond all clearances (errors of tape and shrinkage take up to "
           "%s), "
           "nearest the %s\n",
           spare(t, way->around_mm), at_most(t, visit->error_around_mm), way->tightest);
    printf("    above %s (errors up to %s)\n", spare(t, way->above_mm),
           at_most(t, visit->error_above_mm));
}

static void tell_company(const telling *t, const ks_fit_visit *visit)
{
    const ks_fit_way *under = &visit->under_shelf;
    printf("    other levels, below or above it: %s of height, their shelves included\n",
           length(t, fmax(0, visit->best.above_mm)));
    if (under->possible)
        printf("    a shelf can go over it on %s of posts: %s to spare above, %s around%s\n",
               length(t, under->post_mm), spare(t, under->above_mm), spare(t, under->around_mm),
               under->above_mm < visit->error_above_mm || under->around_mm < visit->error_around_mm
                   ? " (less than the errors: measure again first)"
                   : "");
    else
        printf("    no shelf can go over it: leave all above it out\n");
    if (visit->beside_mm > 0)
        printf("    beside it there: room for a piece %s across\n", length(t, visit->beside_mm));
}

static void tell_visit(const telling *t, const ks_fit_visit *visit)
{
    printf("  %s: %s; %s at its narrowest, %s high%s\n", visit->name,
           visit->fits ? "goes in" : "does not go in", length(t, visit->breadth_mm),
           length(t, visit->height_mm), visit->piece->has_setter ? " with its setter" : "");
    if (visit->best.possible)
        tell_stand(t, visit);
    if (isfinite(visit->passage_mm))
        printf("    way in: %s %s (errors up to %s)\n",
               visit->passes ? spare(t, visit->passage_mm) : at_most(t, -visit->passage_mm),
               visit->passes ? "to spare" : "short", at_most(t, visit->error_passage_mm));
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
        printf("; cut wet %s x %s, %s thick", length(t, setting->wet_x_mm),
               length(t, setting->wet_y_mm), length(t, setting->wet_thick_mm));
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
    printf("  feet: first outward %s, then inward %s, %s if one is held fast%s\n",
           at_most(t, with->outward_mm), at_most(t, with->expected_mm), at_most(t, with->worst_mm),
           setter ? ", over their setter" : ", over the shelf");
    if (setter)
        printf("    straight on the shelf they would travel %s, %s at the worst; the setter's "
               "rim travels %s over it instead\n",
               at_most(t, without->expected_mm), at_most(t, without->worst_mm),
               at_most(t, with->slab_rim_mm));
    printf("  stands %s within its feet, %s on a shelf tilted by 5 degrees%s\n",
           length(t, care->stands_by_mm), length(t, care->stands_tilted_mm),
           care->stands_by_mm < 0        ? ": IT FALLS, prop it"
           : care->stands_tilted_mm < 10 ? ": prop it"
                                         : "");
}

static void tell_shelf(const telling *t)
{
    const ks_fit_care *care = &t->answer->care;
    if (care->shelf_safe_kg <= 0) {
        printf("  shelf %s: what it bears at this cone is not known; it puts %s on it\n",
               care->shelf, mass(t, care->on_shelf_kg));
        return;
    }
    double margin = care->shelf_safe_kg - care->on_shelf_kg;
    printf(
        "  shelf %s: %s on it; on three posts it bears about %s at this cone (guidance only): %s "
        "%s\n",
        care->shelf, mass(t, care->on_shelf_kg), mass(t, care->shelf_safe_kg),
        mass(t, fabs(margin)),
        margin >= 0 ? "in hand" : "TOO MUCH: a thicker shelf, or a post under its middle");
}

static void tell_lifting(const telling *t)
{
    const ks_fit_care *care = &t->answer->care;
    printf("  lifting: %s bare, %s on its setter, %s with the shelf, %s in front of the body: ",
           mass(t, care->form_kg), mass(t, care->lifted_kg), mass(t, care->with_shelf_kg),
           length(t, care->reach_mm));
    if (care->limit_kg <= 0)
        printf("too far to lift at all; caution: two people, or a hoist\n");
    else
        printf("one person should lift at most %s there%s\n", mass(t, care->limit_kg),
               care->lifted_kg > care->limit_kg ? "; caution: two people, or in parts" : "");
}

static void tell_answer(const telling *t)
{
    const ks_fit_answer *answer = t->answer;
    const ks_piece *piece = &t->outcome->order->pieces[answer->piece];
    printf("%s in kiln %s (%s): %s\n", piece->id, answer->kiln->id, answer->kiln->name,
           answer->verdict);
    for (int i = 0; i < answer->n_changes; i++)
        printf("  %s %s\n", i == 0 ? "nearest yes:" : "          or:", answer->changes[i]);
    if (!answer->fits && answer->n_changes == 0)
        printf("  no change was found that lets it in\n");
    for (int v = 0; v < answer->n_visits; v++)
        tell_visit(t, &answer->visits[v]);
    if (*answer->assumed)
        printf("  assumed: %s\n", answer->assumed);
    tell_sizes(t);
    tell_setting(t);
    if (!answer->care.shelf)
        return;
    tell_travel(t);
    tell_shelf(t);
    tell_lifting(t);
}

static void tell_load(const ks_fit_load *load)
{
    printf("kiln %s, planned as one load: %d of the %d named go in together", load->kiln->id,
           load->named_in, load->n_named);
    if (load->others > 0)
        printf(", and %d of %d others with them (worth %.6g)", load->others_in, load->others,
               load->others_worth);
    printf("\n");
    for (int i = 0; i < load->plan->n_left_out; i++) {
        const ks_left_out *left = &load->plan->left_out[i];
        if (left->piece >= 0 && left->piece < load->n_named)
            printf("  %s waits: %s, %s\n", left->id, left->why, left->detail);
    }
}

void ks_fit_print(const ks_fit_outcome *outcome, ks_arena *arena)
{
    for (int i = 0; i < outcome->n_answers; i++)
        tell_answer(&(telling){outcome, &outcome->answers[i], arena});
    for (int i = 0; i < outcome->n_pairs; i++) {
        const ks_fit_pair *pair = &outcome->pairs[i];
        printf("%s and %s in kiln %s: %s\n", outcome->order->pieces[pair->a].id,
               outcome->order->pieces[pair->b].id, pair->kiln->id,
               pair->together ? "can share a level" : "no way found to share a level");
    }
    for (int i = 0; i < outcome->n_loads; i++)
        tell_load(&outcome->loads[i]);
    for (int i = 0; i < outcome->drawn.drawing.n_files; i++)
        printf("drawn: %s\n", outcome->drawn.paths[i]);
}
