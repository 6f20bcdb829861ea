/* The answer of fire. */
#include "app/answers/answer.h"

#include "app/answers/answer_frame.h"
#include "base/data/json_out.h"
#include "kilnstow/cone.h"

#include <math.h>

static void energy_added(ks_json_out *out, const ks_firing_result *fired)
{
    const ks_energy *energy = &fired->energy;
    ks_out_object(out, "energy_kwh");
    ks_out_number(out, "total", energy->total);
    ks_out_number(out, "low", fired->low_kwh);
    ks_out_number(out, "high", fired->high_kwh);
    ks_out_number(out, "ware", energy->ware);
    ks_out_number(out, "furniture", energy->furniture);
    ks_out_number(out, "lining", energy->lining);
    ks_out_number(out, "casing", energy->casing);
    ks_out_number(out, "vent", energy->vent);
    ks_out_number(out, "chemistry", energy->chemistry);
    ks_out_number(out, "flue", energy->flue);
    ks_out_end(out);
}

static const char *const seen_words[] = {"in_range", "under", "over", "both"};

static void levels_added(ks_json_out *out, const ks_firing_result *fired, ks_arena *arena)
{
    ks_out_array(out, "levels");
    for (int v = 0; v < fired->n_levels; v++) {
        const ks_level_fired *level = &fired->levels[v];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "level", level->name);
        ks_out_whole(out, "n", level->level + 1);
        ks_out_text(out, "edge_cone", ks_cone_print(level->cone_edge, arena));
        ks_out_text(out, "middle_cone", ks_cone_print(level->cone_middle, arena));
        ks_out_number(out, "ware_kg", level->ware_kg);
        ks_out_number(out, "furniture_kg", level->furniture_kg);
        ks_out_number(out, "peak_edge_c", level->peak_edge_c);
        ks_out_number(out, "peak_middle_c", level->peak_middle_c);
        ks_out_number(out, "lag_k", level->lag_k);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void outside_added(ks_json_out *out, const ks_firing_result *fired, ks_arena *arena)
{
    ks_out_array(out, "pieces_outside");
    for (int i = 0; i < fired->n_outside; i++) {
        const ks_piece_outside *piece = &fired->outside[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", piece->id);
        ks_out_text(out, "level", fired->levels[piece->level].name);
        ks_out_text(out, "at", piece->middle ? "middle" : "edge");
        ks_out_whole(out, "copies", piece->copies);
        ks_out_array_flat(out, "asked");
        ks_out_text(out, NULL, ks_cone(piece->asked_low)->name);
        ks_out_text(out, NULL, ks_cone(piece->asked_high)->name);
        ks_out_end(out);
        ks_out_text(out, "saw", ks_cone_print(piece->saw, arena));
        ks_out_text(out, "elsewhere", piece->elsewhere);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void segments_added(ks_json_out *out, const ks_firing_result *fired)
{
    ks_out_array(out, "segments");
    for (int i = 0; i < fired->n_segments; i++) {
        const ks_segment_fired *segment = &fired->segments[i];
        ks_out_object(out, NULL);
        ks_out_number(out, "rate_c_h", segment->asked.rate_c_h);
        ks_out_number(out, "to_c", ks_segment_target_c(segment));
        ks_out_number(out, "hold_min", 60 * segment->asked.hold_h);
        ks_out_number(out, "from_h", segment->from_h);
        ks_out_number(out, "took_h", segment->hours);
        ks_out_bool(out, "ended_by_cone", segment->ended_by_cone);
        ks_out_number(out, "ended_c", segment->to_c);
        ks_out_bool(out, "followed", segment->followed);
        if (!segment->followed)
            ks_out_number(out, "left_at_c", segment->left_at_c);
        ks_out_text(out, "instead", segment->instead);
        ks_out_text(out, "reason", segment->reason);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static const char *turn_words(const ks_turn *turn, ks_arena *arena)
{
    return ks_joined(turn->set, *turn->mind ? ", " : "", turn->mind, arena);
}

/* Nothing where a controller steers. */
static void turns_added(ks_json_out *out, const ks_firing_result *fired)
{
    if (fired->n_turns == 0)
        return;
    ks_out_array(out, "turns");
    for (int i = 0; i < fired->n_turns; i++) {
        const ks_turn *turn = &fired->turns[i];
        ks_out_object_flat(out, NULL);
        ks_out_number(out, "at_h", turn->at_h);
        ks_out_number(out, "at_c", turn->at_c);
        ks_out_text(out, "turn_to", turn_words(turn, out->text.arena));
        ks_out_number(out, "part_of_power", turn->part);
        ks_out_bool(out, "lid_propped", turn->lid_propped);
        ks_out_text(out, "look", turn->look);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void doubts_added(ks_json_out *out, const ks_firing_result *fired)
{
    ks_out_array(out, "doubts");
    for (int i = 0; i < fired->n_doubts; i++) {
        const ks_fire_doubt *doubt = &fired->doubts[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "input", doubt->input);
        ks_out_text(out, "spread", doubt->spread);
        ks_out_number(out, "low_kwh", doubt->low_kwh);
        ks_out_number(out, "high_kwh", doubt->high_kwh);
        ks_out_bool(out, "fails", doubt->fails);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void learnt_added(ks_json_out *out, const ks_learnt *learnt)
{
    if (!learnt)
        return;
    ks_out_object(out, "tuned");
    ks_out_whole(out, "firings", learnt->n);
    ks_out_number(out, "conductance", learnt->n > 0 ? learnt->tuning.as_built : 1);
    ks_out_number(out, "stored_heat", learnt->n > 0 ? learnt->tuning.store_factor : 1);
    ks_answer_texts(out, "warnings", learnt->n_warnings, learnt->warnings);
    ks_out_end(out);
}

static void pace_added(ks_json_out *out, const ks_pace *pace)
{
    if (!pace->piece)
        return;
    ks_out_object(out, "pace");
    ks_out_text(out, "id", pace->piece);
    ks_out_text(out, "why", pace->why);
    ks_out_number(out, "hours_more", pace->hours_more);
    ks_out_number(out, "kwh_more", pace->kwh_more);
    ks_out_end(out);
}

static void strains_added(ks_json_out *out, const ks_firing_result *fired, const ks_order *order)
{
    ks_out_array(out, "strains");
    for (int i = 0; i < fired->n_strains; i++) {
        const ks_penalty *strain = &fired->strains[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", strain->piece >= 0 ? order->pieces[strain->piece].id : "");
        ks_out_text(out, "kind", strain->kind);
        ks_out_number(out, "at_c", strain->at_c);
        ks_out_number(out, "went", strain->went);
        ks_out_number(out, "bears", strain->bears);
        ks_out_whole(out, "more", strain->more);
        ks_out_text(out, "says", strain->says);
        ks_out_end(out);
    }
    ks_out_end(out);
}

/* Infinity and what is not known are null. */
static void times_added(ks_json_out *out, const ks_firing_result *fired)
{
    ks_out_number(out, "hours", fired->hours);
    ks_out_number(out, "cone_down_h", fired->cone_down_h);
    ks_out_number(out, "ended_h", fired->hours);
    ks_out_number(out, "open_after_hours", fired->open_after_hours);
    ks_out_number(out, "open_after_low_h", fired->open_low_h);
    ks_out_number(out, "open_after_high_h", fired->open_high_h);
    ks_out_number(out, "open_after_propped_h", fired->open_propped_h);
}

static void curve_added(ks_json_out *out, const char *key, const char *name, int readings,
                        const ks_curve_told *told)
{
    ks_out_object_flat(out, key);
    if (name) {
        ks_out_text(out, "name", name);
        ks_out_whole(out, "readings", readings);
    }
    ks_out_number(out, "peak_c", told->peak_c);
    ks_out_number(out, "peak_h", told->peak_h);
    ks_out_number(out, "heated_h", told->heated_h);
    ks_out_text(out, "cone", ks_cone_print(told->cone, out->text.arena));
    ks_out_end(out);
}

static void stretches_added(ks_json_out *out, const ks_comparison *c)
{
    ks_out_array(out, "stretches");
    for (int i = 0; i < c->n_stretches; i++) {
        const ks_measured_stretch *stretch = &c->stretches[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "side", stretch->measured_c > stretch->simulated_c ? "ahead" : "behind");
        ks_out_number(out, "from_h", stretch->from_h);
        ks_out_number(out, "to_h", stretch->to_h);
        ks_out_number(out, "most_k", stretch->measured_c - stretch->simulated_c);
        ks_out_number(out, "at_h", stretch->at_h);
        ks_out_number(out, "measured_c", stretch->measured_c);
        ks_out_number(out, "simulated_c", stretch->simulated_c);
        ks_out_number(out, "late_h", stretch->late_h);
        ks_out_number(out, "simulated_power_part", stretch->simulated_part);
        ks_out_end(out);
    }
    ks_out_end(out);
}

/* Nothing where there is none. */
static void measured_added(ks_json_out *out, const ks_comparison *c)
{
    if (!c)
        return;
    const ks_measured *record = &c->record;
    ks_out_object(out, "measured");
    ks_out_text(out, "file", record->file);
    ks_out_number(out, "begins_h", c->begins_h);
    ks_out_text(out, "begins_by", c->begins_by);
    ks_out_number(out, "compared_from_h", c->from_h);
    ks_out_number(out, "compared_to_h", c->to_h);
    ks_out_number(out, "mean_k", c->mean_k);
    ks_out_number(out, "rms_k", c->rms_k);
    ks_out_bool(out, "still_heating", c->still_heating);
    curve_added(out, "mean", record->mean.name, record->mean.n, &c->mean);
    curve_added(out, "simulated", NULL, 0, &c->simulated);
    ks_out_array(out, "thermocouples");
    for (int i = 0; i < record->n_curves; i++)
        curve_added(out, NULL, record->curves[i].name, record->curves[i].n, &c->curves[i]);
    ks_out_end(out);
    stretches_added(out, c);
    ks_answer_texts(out, "remarks", record->n_remarks, record->remarks);
    ks_out_end(out);
}

/* The schedule with the change that is told, nothing where none is. */
static void cure_added(ks_json_out *out, const ks_schedule *cure)
{
    if (!cure)
        return;
    ks_out_array(out, "cure");
    for (int i = 0; i < cure->n_segments; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_number(out, "rate_c_h", cure->segments[i].rate_c_h);
        ks_out_number(out, "to_c", cure->segments[i].target_c);
        ks_out_number(out, "hold_min", 60 * cure->segments[i].hold_h);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void load_added(ks_json_out *out, const ks_fire_outcome *outcome, int i, ks_arena *arena)
{
    const ks_firing_result *fired = &outcome->fired[i];
    ks_out_object(out, NULL);
    ks_out_whole(out, "load", outcome->loads[i] + 1);
    ks_out_bool(out, "reached", fired->reached);
    ks_out_text(out, "verdict", seen_words[fired->seen]);
    ks_out_text(out, "says", fired->verdict);
    ks_out_text(out, "change", fired->change);
    cure_added(out, fired->cure);
    times_added(out, fired);
    ks_out_number(out, "peak_kw", fired->peak_kw);
    ks_out_number(out, "amps", fired->amps);
    ks_out_number(out, "circuit_amps", fired->circuit_amps);
    ks_out_number(out, "top_c", fired->top_c);
    ks_out_number(out, "ledger_residual", fired->ledger_residual);
    energy_added(out, fired);
    doubts_added(out, fired);
    segments_added(out, fired);
    turns_added(out, fired);
    strains_added(out, fired, outcome->plan->order);
    pace_added(out, &fired->pace);
    learnt_added(out, outcome->learnt ? &outcome->learnt[i] : NULL);
    levels_added(out, fired, arena);
    outside_added(out, fired, arena);
    measured_added(out, outcome->measured);
    ks_answer_texts(out, "drying", fired->n_drying, fired->drying);
    ks_answer_texts(out, "assumed", fired->n_assumed, fired->assumed);
    ks_answer_texts(out, "cautions", fired->n_cautions, fired->cautions);
    ks_out_end(out);
}

const char *ks_answer_fire(const ks_fire_outcome *outcome, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "fire",
                   !ks_fire_all_reached(outcome) ? "not_reached"
                   : !ks_fire_all_borne(outcome) ? "too_fast"
                                                 : "reached");
    ks_answer_warnings(&out, outcome->plan->order);
    ks_out_object(&out, "result");
    ks_out_array(&out, "loads");
    for (int i = 0; i < outcome->n_loads; i++)
        load_added(&out, outcome, i, arena);
    ks_out_end(&out);
    return ks_answer_close(&out);
}
