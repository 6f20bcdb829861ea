#include "fire/case.h"

#include "base/language.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

typedef struct {
    ks_firing_result *out;
    ks_arena *arena;
    int room;
} caution_list;

static void caution(caution_list *list, const char *text)
{
    ks_firing_result *out = list->out;
    out->cautions = KS_GROW(list->arena, out->cautions, out->n_cautions, &list->room, const char *);
    out->cautions[out->n_cautions++] = text;
}

/* What holds for every firing of a kiln. Common practice where no source is named. */
#define CLEAR_MM 450.0 /* 305 to 457 mm are asked for of electric kilns, more of gas kilns */

enum { SHORT = 4, ALL = 11 };

static const char *supply_words(bool gas)
{
    return gas ? ks_tr("gas: burners, pipes and flue by a licensed fitter and the local gas code")
               : ks_tr("circuit: it runs for hours, so the load may be 80 % of what wire and "
                       "breaker are rated for (common code); local electrical code and a "
                       "licensed electrician decide");
}

static const char *off_words(bool gas)
{
    return gas ? ks_tr("smell of gas, or a flame that is out: shut the main valve, touch no "
                       "switch, air the room, and light nothing before the gas is gone")
               : ks_tr("switch it off at the wall before a hand, a shelf or a tool goes in; only a "
                       "licensed electrician opens its panel");
}

static void fill(const char **lines, bool gas, const ks_display *display, ks_arena *arena)
{
    int n = 0;
    lines[n++] = ks_tr("ventilate: firing gives off carbon monoxide, sulphur and metal fumes; use "
                       "a vent to the outside, and a carbon monoxide alarm in rooms where people "
                       "stay");
    lines[n++] = ks_arena_print(arena,
                                "never open it hot: wait until it reads below %s; sooner cracks "
                                "ware and shelves and burns people",
                                ks_show_temp(display, OPEN_AT_C, arena));
    lines[n++] = ks_tr("do not leave it to the controller alone: be there when it should end");
    lines[n++] = supply_words(gas);
    lines[n++] = off_words(gas);
    lines[n++] = ks_arena_print(arena,
                                "keep %s clear all round it, or what its maker and the local code "
                                "ask for; nothing that burns stands, hangs or lies near it",
                                ks_show_length(display, CLEAR_MM, arena));
    lines[n++] = ks_tr("look in only through a shade made for infrared; sunglasses are none");
    lines[n++] = ks_tr("fire nothing that is still wet: it bursts; thick ware is dry when two "
                       "weighings a day apart are the same");
    lines[n++] = ks_tr("dust of clay, glaze, kiln wash and brick harms the lungs for good: wet "
                       "cleaning, no sweeping, a respirator fit for it");
    lines[n++] = ks_tr("a shelf of a large kiln is a load for two; look it over for cracks before "
                       "it bears ware");
    lines[n++] = ks_tr("if something burns or it will not switch off: off at the main switch or "
                       "valve, leave it shut, get everyone out, call the fire brigade");
}

ks_usual_cautions ks_kiln_cautions(const ks_kiln *kiln, const ks_display *display, ks_arena *arena)
{
    const char **lines = KS_TAKE(arena, ALL, const char *);
    fill(lines, kiln->heat.kind == KS_GAS, display, arena);
    return (ks_usual_cautions){ALL, SHORT, lines};
}

static void caution_people(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_kiln kiln = {.heat = asked->kiln.heat};
    ks_usual_cautions usual = ks_kiln_cautions(&kiln, asked->display, arena);
    for (int i = 0; i < usual.n_short; i++)
        caution(list, usual.lines[i]);
}

static bool in_reduction(const ks_fire_case *asked)
{
    return asked->firing->atmosphere && strcmp(asked->firing->atmosphere, "reduction") == 0;
}

/* What its flue gas holds when a gas kiln is short of air; no burner makes it in the others. */
static void caution_reduction(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_fuel *fuel = asked->kiln.fuel;
    if (!in_reduction(asked))
        return;
    if (!fuel) {
        caution(list,
                ks_tr("reduction is asked for and nothing in an electric kiln makes it: it is "
                      "fired here in air; what smoulders in it eats its elements and fills the "
                      "room with carbon monoxide"));
        return;
    }
    ks_flue_gas flue = ks_flue_gas_of(fuel, -REDUCES_BY, fmax(list->out->top_c, REDUCES_FROM_C));
    caution(list,
            ks_arena_print(arena,
                           "reduction from %s up, its burners %.0f %% short of air: the flue then "
                           "holds about %.1f %% carbon monoxide and %.1f %% hydrogen, and %.0f %% "
                           "of the gas's heat leaves unburnt; carbon monoxide kills unseen: draw "
                           "flue and spy holes off outdoors, an alarm in the room, nobody stays",
                           ks_show_temp(asked->display, REDUCES_FROM_C, arena), 100 * REDUCES_BY,
                           100 * flue.carbon_monoxide, 100 * flue.hydrogen, 100 * flue.unburnt));
}

/* A brick's group is tested for a day at its temperature and shrinks by 2 % at most (ASTM C155); a
 * hot face there for an hour, as at cone 6 in grade 23, wears as usual. Behind it a layer sees its
 * heat for as long as the kiln does. Common practice, no source. */
#define HOT_FACE_BEARS_K 10.0

static bool too_hot(const ks_layer_fired *layer)
{
    double bears_c = layer->limit_c + (layer->hot_face ? HOT_FACE_BEARS_K : 0);
    return layer->limit_c > 0 && layer->peak_c > bears_c;
}

static const char *layer_words(const ks_fire_case *asked, const ks_layer_fired *layer,
                               ks_arena *arena)
{
    return ks_arena_print(
        arena,
        layer->hot_face
            ? "the hot face of the %s, %s, gets to %s; its limit is %s: it shrinks and crumbles "
              "sooner"
            : "the %s's backing, %s, gets to %s; its limit is %s: it shrinks away, and what is "
              "behind gets hotter",
        layer->where, layer->material, ks_show_temp(asked->display, layer->peak_c, arena),
        ks_show_temp(asked->display, layer->limit_c, arena));
}

static void caution_kiln(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_firing_result *out = list->out;
    const ks_heat *heat = &asked->kiln.heat;
    if (heat->top_temp_c > 0 && out->top_c > heat->top_temp_c)
        caution(list, ks_arena_print(arena, "%s is above the maker's limit of %s",
                                     ks_show_temp(asked->display, out->top_c, arena),
                                     ks_show_temp(asked->display, heat->top_temp_c, arena)));
    for (int i = 0; i < out->n_layers; i++)
        if (too_hot(&out->layers[i]))
            caution(list, layer_words(asked, &out->layers[i], arena));
}

static void caution_furniture(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_firing_result *out = list->out;
    for (int l = 0; l < asked->load.n; l++)
        for (int i = 0; i < asked->load.levels[l].n_furniture; i++) {
            const ks_fire_material *row = ks_material_find(
                asked->options.materials, asked->load.levels[l].furniture[i].material);
            if (row && row->limit_c > 0 && out->top_c > row->limit_c) {
                caution(list, ks_arena_print(
                                  arena, "%s is above the %s that %s shelves bear for long",
                                  ks_show_temp(asked->display, out->top_c, arena),
                                  ks_show_temp(asked->display, row->limit_c, arena), row->name));
                return;
            }
        }
}

static const ks_need *first_wet(const ks_needs *needs)
{
    for (int i = 0; i < needs->n; i++)
        if (needs->needs[i].stage == KS_LEATHER || needs->needs[i].wet_slab)
            return &needs->needs[i];
    return NULL;
}

static const char *hold_words(const ks_fire_case *asked, const ks_segment *segment, ks_arena *arena)
{
    int minutes = (int)floor(60 * segment->hold_h + 0.5);
    return ks_arena_print(arena, "%d h %02d at %s", minutes / 60, minutes % 60,
                          ks_show_temp(asked->display, segment->target_c, arena));
}

/* Wet ware, and how a schedule worked out here dries it: its first two segments. */
static void tell_drying(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out)
{
    const ks_need *wet = first_wet(&asked->needs);
    const ks_segment *segments = asked->schedule.segments;
    if (!wet)
        return;
    out->drying = KS_TAKE(arena, 1, const char *);
    out->drying[out->n_drying++] =
        asked->worked.style && asked->schedule.n_segments >= 2
            ? ks_arena_print(arena,
                             "%s is still wet and dries in the kiln: %s with the lid propped and "
                             "the vent off, then %s with the vent on, before it rises past boiling",
                             wet->name, hold_words(asked, &segments[0], arena),
                             hold_words(asked, &segments[1], arena))
            : ks_arena_print(arena,
                             "%s is not dry: it bursts unless it dries in the kiln before it rises "
                             "past boiling",
                             wet->name);
}

static void caution_ware(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_firing_result *out = list->out;
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < out->n_levels; i++) {
        if (!(out->levels[i].ware_kg > 0))
            continue;
        low = fmin(low, fmin(out->levels[i].cone_edge, out->levels[i].cone_middle));
        high = fmax(high, fmax(out->levels[i].cone_edge, out->levels[i].cone_middle));
    }
    if (high - low > 1)
        caution(list, ks_arena_print(arena,
                                     "levels differ by %.1f cones: a hold at the end, or "
                                     "more even loading, brings them together",
                                     high - low));
}

/* The thickest wall that was only guessed, of ware that is still raw. */
static void caution_guess(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_need *thickest = NULL;
    int more = -1;
    for (int i = 0; i < asked->needs.n && asked->worked.style; i++) {
        const ks_need *need = &asked->needs.needs[i];
        more += need->wall_likely;
        if (need->wall_likely && (!thickest || need->wall_mm > thickest->wall_mm))
            thickest = need;
    }
    if (thickest)
        caution(list,
                ks_arena_print(
                    arena,
                    "nobody told the wall of %s%s, and it is raw: %s taken, the thickest that is "
                    "likely; measure the thickest place, for the schedule goes by it",
                    thickest->name, more > 0 ? " and of other ware" : "",
                    ks_show_length(asked->display, thickest->wall_mm, arena)));
}

#define THICK_MM 20.0 /* from here on light colour says nothing of the middle; common practice */

/* Thick raw ware that is dry by somebody's word alone. */
static void caution_unweighed(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    for (int i = 0; i < asked->needs.n && asked->plan; i++) {
        const ks_need *need = &asked->needs.needs[i];
        const ks_piece *piece = &asked->plan->order->pieces[need->piece];
        if (need->stage != KS_DRY || need->wall_mm < THICK_MM || need->wall_likely ||
            piece->weighed_again_kg > 0)
            continue;
        caution(list,
                ks_arena_print(arena,
                               "%s is %s thick and dry by its look alone: weigh it twice, a "
                               "day apart, and tell both as weighed and weighed_again",
                               need->name, ks_show_length(asked->display, need->wall_mm, arena)));
        return;
    }
}

/* Ware within or under other ware, of a load that is planned. */
static int count_covered(const ks_load *load)
{
    int n = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pieces; i++) {
            const ks_placed *placed = &load->levels[l].pieces[i];
            n += placed->on_id && placed->way != KS_EDGE;
        }
    return n;
}

/* The model heats each piece by itself. Common practice, no source. */
static void caution_stacks(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    int n = asked->plan ? count_covered(&asked->plan->loads[asked->options.load]) : 0;
    if (n > 0)
        caution(list,
                ks_arena_print(arena,
                               ks_tr_count(n,
                                           "%d piece stands in or on other ware: what is within "
                                           "lags behind, in heat and in burn-out, and no figure "
                                           "here counts that; rise slower up to red heat, with "
                                           "the vent on so that air gets between",
                                           "%d pieces stand in or on other ware: what is within "
                                           "lags behind, in heat and in burn-out, and no figure "
                                           "here counts that; rise slower up to red heat, with "
                                           "the vent on so that air gets between"),
                               n));
}

/* "6 h 30 to 11 h 00", of each time that its switches are minded all along. */
static const char *minded_spans(const ks_firing_result *out, ks_arena *arena)
{
    const char *spans = "";
    for (int i = 0; i + 1 < out->n_turns; i++) {
        int from = i;
        while (i + 1 < out->n_turns && out->turns[i].toward_k_h != 0)
            i++;
        if (i > from)
            spans = ks_arena_print(arena, "%s%s%s to %s", spans, *spans ? ", " : "",
                                   ks_show_hours(out->turns[from].at_h, arena),
                                   ks_show_hours(out->turns[i].at_h, arena));
    }
    return spans;
}

static void caution_minded(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const char *spans = minded_spans(list->out, arena);
    double wall_mm = 0;
    for (int i = 0; i < asked->needs.n; i++)
        wall_mm = fmax(wall_mm, asked->needs.needs[i].wall_mm);
    if (*spans)
        caution(list,
                ks_arena_print(arena,
                               "somebody stays with it and its pyrometer from %s: no position of "
                               "these switches is slow enough there for walls of %s; walls "
                               "hollowed before they dry, or a kiln with a controller, spare that",
                               spans, ks_show_length(asked->display, wall_mm, arena)));
}

/* What a controller cannot hold, or what nobody does where there is none. */
static void caution_control(const ks_fire_case *asked, ks_arena *arena, caution_list *list)
{
    const ks_heat *heat = &asked->kiln.heat;
    if (heat->control == KS_BY_SWITCHES) {
        caution_minded(asked, arena, list);
        caution(list,
                "no controller: nothing switches it off but you; set alarms for each turn, and "
                "let a timer or a cone shut-off be no more than a second guard");
        return;
    }
    if (asked->worked.style && *asked->worked.merged)
        caution(list, asked->worked.merged);
    else if (!asked->worked.style && heat->segments > 0 &&
             asked->schedule.n_segments > heat->segments)
        caution(list,
                ks_arena_print(arena,
                               "the schedule has %d segments, the controller holds %d: set the "
                               "rest as a second programme, or let one be worked out",
                               asked->schedule.n_segments, heat->segments));
}

void ks_fire_case_cautions(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out)
{
    caution_list list = {out, arena, 0};
    tell_drying(asked, arena, out);
    caution_ware(asked, arena, &list);
    caution_guess(asked, arena, &list);
    caution_unweighed(asked, arena, &list);
    caution_stacks(asked, arena, &list);
    caution_reduction(asked, arena, &list);
    caution_control(asked, arena, &list);
    caution_kiln(asked, arena, &list);
    caution_furniture(asked, arena, &list);
    out->n_special = out->n_cautions;
    caution_people(asked, arena, &list);
}
