#include "check/check_judge.h"

#include "studio/stacked.h"

/* That the load is one of this order, in this kiln, by these rules; and each piece what it was. */

static void same_number(ks_judge *j, double found, double told, const char *what)
{
    ks_spot where = ks_spot_load(j);
    where.a = what;
    ks_note(j, RULE_AGREES, ks_near(found, told) ? 0 : -fabs(found - told), where);
}

static void same_outline(ks_judge *j, const ks_outline *found, const ks_outline *told,
                         const char *what)
{
    same_number(j, ks_outline_difference(found, told), 0, what);
}

static void is_so(ks_judge *j, bool so, const char *what)
{
    ks_spot where = ks_spot_load(j);
    where.a = what;
    ks_note(j, RULE_AGREES, so ? 0 : -INFINITY, where);
}

#define TITLE(name, usual_mm, what) "clearance " #name,
static const char *const clearance_titles[] = {KS_CLEARANCES(TITLE)};

static void same_clearances(ks_judge *j)
{
    ks_clearance found = j->load->clearance, told = ks_order_clearance(j->order, j->kiln);
    for (int i = 0; i < ks_n_clearances; i++)
        same_number(j, *ks_clearance_at(&found, i), *ks_clearance_at(&told, i),
                    clearance_titles[i]);
}

static void same_chamber(ks_judge *j)
{
    same_number(j, j->load->height_mm, j->kiln->height_mm, "chamber height");
    is_so(j, j->load->n_parts == j->kiln->n_parts, "chamber parts");
    for (int i = 0; i < j->load->n_parts && i < j->kiln->n_parts; i++) {
        const ks_chamber_part *found = &j->load->parts[i], *told = &j->kiln->parts[i];
        same_number(j, found->from_mm, told->from_mm, "chamber");
        same_number(j, found->to_mm, told->to_mm, "chamber");
        same_outline(j, &found->outline, &told->outline, "chamber");
    }
}

static void same_keep_outs(ks_judge *j)
{
    is_so(j, j->load->n_keep_outs == j->kiln->n_keep_outs, "keep-outs");
    for (int i = 0; i < j->load->n_keep_outs && i < j->kiln->n_keep_outs; i++) {
        const ks_keep_out *found = &j->load->keep_outs[i], *told = &j->kiln->keep_outs[i];
        is_so(j, ks_same_text(found->kind, told->kind), "keep-out");
        same_number(j, found->from_mm, told->from_mm, "keep-out");
        same_number(j, found->to_mm, told->to_mm, "keep-out");
        same_number(j, found->clearance_mm, told->clearance_mm, "keep-out clearance");
        same_outline(j, &found->outline, &told->outline, "keep-out");
    }
}

static const ks_bay *name_bay(const ks_kiln *kiln, const char *id)
{
    for (int i = 0; i < kiln->n_bays; i++)
        if (ks_same_text(kiln->bays[i].id, id))
            return &kiln->bays[i];
    return NULL;
}

static void same_bays(ks_judge *j)
{
    for (int i = 0; i < j->load->n_bays; i++) {
        const ks_bay *told = name_bay(j->kiln, j->load->bays[i].id);
        is_so(j, told != NULL, "bay");
        if (told)
            same_outline(j, &j->load->bays[i].outline, &told->outline, "bay");
    }
    for (int l = 0; l < j->load->n_levels; l++) {
        bool listed = false;
        for (int i = 0; i < j->load->n_bays; i++)
            listed = listed || ks_same_text(j->load->bays[i].id, j->load->levels[l].bay);
        is_so(j, listed, "a level's bay");
    }
}

static bool same_firing(const ks_firing *a, const ks_firing *b)
{
    return ks_same_text(a->id, b->id) && ks_same_text(a->cone, b->cone) &&
           fabs(a->top_temp_c - b->top_temp_c) < 0.01 &&
           ks_same_text(a->atmosphere, b->atmosphere) && ks_same_text(a->schedule, b->schedule);
}

static int firing_of(const ks_order *order, const ks_firing *firing)
{
    for (int i = 0; i < order->n_firings; i++)
        if (same_firing(&order->firings[i], firing))
            return i;
    return -1;
}

void ks_check_agrees(ks_judge *j)
{
    is_so(j, j->kiln && ks_same_text(j->kiln->id, j->load->kiln_id), "kiln");
    is_so(j, firing_of(j->order, &j->load->firing) >= 0, "firing");
    if (!j->kiln)
        return;
    same_clearances(j);
    same_chamber(j);
    same_keep_outs(j);
    same_bays(j);
}

bool ks_slot_takes(const ks_order *order, int number, const ks_load *load)
{
    const ks_slot *slot = &order->slots[number];
    return slot->kiln == load->kiln && slot->day == load->day &&
           (slot->firing < 0 || slot->firing == firing_of(order, &load->firing));
}

/* Every load has a slot of its own. Slots that leave the firing open are taken last. */
void ks_check_slots(ks_judge *j)
{
    bool *taken = KS_TAKE(j->arena, j->order->n_slots, bool);
    for (int l = 0; l < j->plan->n_loads; l++) {
        int found = -1;
        for (int s = 0; s < j->order->n_slots; s++) {
            const ks_slot *slot = &j->order->slots[s];
            if (taken[s] || !ks_slot_takes(j->order, s, &j->plan->loads[l]))
                continue;
            if (found < 0 || (j->order->slots[found].firing < 0 && slot->firing >= 0))
                found = s;
        }
        if (found >= 0)
            taken[found] = true;
        j->number = l;
        is_so(j, found >= 0, "no such load is asked for");
    }
}

static void shape_note(ks_judge *j, const ks_thing *thing, double off)
{
    ks_note(j, RULE_SHAPE, off <= 1.5 * KS_GRID ? 0 : -off, ks_spot_thing(j, thing));
}

static void same_hollow(ks_judge *j, const ks_thing *thing, const ks_part *found,
                        const ks_part *told, ks_arena *scratch)
{
    shape_note(j, thing, (found->hollow.n > 0) == (told->hollow.n > 0) ? 0 : INFINITY);
    if (found->hollow.n == 0 || told->hollow.n == 0)
        return;
    ks_outline placed = ks_outline_place(&told->hollow, thing->placed->stand, scratch);
    shape_note(j, thing, ks_outline_difference(&found->hollow, &placed));
}

/* Heights are compared less `lift`, what a piece that stands on another is raised by. */
static void same_part(ks_judge *j, const ks_thing *thing, const ks_part *found, const ks_part *told,
                      double lift)
{
    ks_arena scratch = {0};
    ks_outline placed = ks_outline_place(&told->outline, thing->placed->stand, &scratch);
    shape_note(j, thing, ks_outline_difference(&found->outline, &placed));
    shape_note(j, thing, fabs(found->from_mm - lift - told->from_mm));
    shape_note(j, thing, fabs(found->to_mm - lift - told->to_mm));
    shape_note(j, thing, found->kind == told->kind ? 0 : INFINITY);
    same_hollow(j, thing, found, told, &scratch);
    ks_arena_finish(&scratch);
}

static double top_of(const ks_placed *placed)
{
    double top = 0;
    for (int p = 0; p < placed->n_parts; p++)
        top = fmax(top, placed->parts[p].to_mm);
    return top;
}

/* Its own, or one that upright ware takes when it is stacked. */
static bool is_pose_of(const ks_placed *found, const ks_piece *told)
{
    const unsigned turned = KS_WAY_BIT(KS_NEST) | KS_WAY_BIT(KS_RIM), on_edge = KS_WAY_BIT(KS_EDGE);
    if (found->pose == told->pose)
        return true;
    if (told->pose != KS_UPRIGHT || told->has_setter)
        return false;
    return found->pose == KS_ON_EDGE ? found->way == KS_EDGE && (told->ways & on_edge)
                                     : found->pose == KS_INVERTED && (told->ways & turned);
}

/* The piece's own parts in the pose it is found in; the first of a row with room for its lean. */
static int parts_told(const ks_placed *found, const ks_piece *told, ks_arena *arena,
                      ks_part **parts)
{
    int n = ks_piece_posed(told, found->pose, arena, parts);
    if (found->way == KS_EDGE && !found->on_id && n == 1)
        (*parts)[0] = ks_part_leaning(&(*parts)[0], arena);
    return n;
}

static void same_piece(ks_judge *j, const ks_thing *thing)
{
    const ks_placed *found = thing->placed;
    const ks_piece *told = thing->piece;
    bool same = found->glazed == told->glazed && found->role == told->role &&
                is_pose_of(found, told) && ks_same_text(found->owner, told->owner) &&
                ks_same_text(found->id, told->id);
    ks_part *parts;
    int n_parts = parts_told(found, told, j->arena, &parts);
    same = same && found->n_parts == n_parts;
    shape_note(j, thing, same ? 0 : INFINITY);
    shape_note(j, thing, fabs(found->around_mm - told->around_mm));
    shape_note(j, thing, fabs(found->top_mm - top_of(found)));
    bool on = ks_same_text(found->on_id, told->on_id) &&
              (!told->on_id || found->on_copy == told->on_copy);
    if (told->on_id && !on)
        ks_note(j, RULE_ON, -INFINITY, ks_spot_thing(j, thing));
    double lift = found->on_id && same ? found->parts[0].from_mm - parts[0].from_mm : 0;
    for (int p = 0; same && p < found->n_parts; p++)
        same_part(j, thing, &found->parts[p], &parts[p], lift);
}

/* How far a turn is from the nearest that the piece allows. */
static void judge_turn(ks_judge *j, const ks_thing *thing)
{
    double step = thing->piece->turn_step_deg, turn = thing->placed->stand.turn_deg;
    if (!(step > 0))
        return;
    double from = turn - thing->piece->turn_first_deg;
    double off = fabs(from - step * floor(from / step + 0.5));
    ks_note(j, RULE_TURN, off <= 1.5 * KS_TURN_STEP ? 0 : -off, ks_spot_thing(j, thing));
}

/* A pack is the box the order describes. */
static void same_pack(ks_judge *j, const ks_thing *thing)
{
    const ks_cone_packs *cones = &j->order->rules.cones;
    ks_arena scratch = {0};
    ks_part box = {KS_PART_BODY,
                   0,
                   cones->height_mm,
                   ks_outline_rectangle(cones->width_mm, cones->depth_mm, 0, &scratch),
                   {0}};
    bool same = cones->wanted && cones->width_mm > 0 && cones->depth_mm > 0 &&
                thing->placed->n_parts == 1 && thing->placed->role == KS_CONES &&
                thing->placed->glazed;
    shape_note(j, thing, same ? 0 : INFINITY);
    if (same)
        same_part(j, thing, &thing->placed->parts[0], &box, 0);
    shape_note(j, thing, fabs(thing->placed->top_mm - top_of(thing->placed)));
    ks_arena_finish(&scratch);
}

void ks_check_shapes(ks_judge *j)
{
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (thing->piece) {
            same_piece(j, thing);
            judge_turn(j, thing);
        } else {
            same_pack(j, thing);
        }
    }
}
