#include "studio/kilns/kiln_file.h"
#include "studio/reading/load_times.h"
#include "studio/files/order_file.h"
#include "studio/files/plan_file.h"
#include "studio/files/reason_file.h"

#include "base/days/date.h"
#include "base/hash.h"
#include "studio/left_out.h"
#include "studio/level_name.h"
#include "studio/names.h"
#include "studio/reason_words.h"

#include <string.h>

static void write_firing(ks_json_out *out, const ks_load *load)
{
    ks_out_object_flat(out, "firing");
    ks_out_text(out, "cone", load->firing.cone);
    ks_out_text(out, "atmosphere", load->firing.atmosphere);
    ks_out_text(out, "schedule", load->firing.schedule);
    if (load->firing.id)
        ks_out_text(out, "id", load->firing.id);
    if (!*load->firing.cone)
        ks_out_number(out, "top", load->firing.top_temp_c);
    ks_out_end(out);
}

static void write_bays(ks_json_out *out, const ks_load *load)
{
    ks_out_array(out, "bays");
    for (int i = 0; i < load->n_bays; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", load->bays[i].id);
        ks_outline_write(out, "outline", &load->bays[i].outline);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void write_posts(ks_json_out *out, const ks_load *load)
{
    ks_out_array(out, "posts");
    for (int i = 0; i < load->n_posts; i++) {
        const ks_post *post = &load->posts[i];
        ks_out_object_flat(out, NULL);
        ks_outline_write(out, "outline", &post->outline);
        ks_length_write(out, "from", post->from_mm);
        ks_length_write(out, "to", post->to_mm);
        ks_out_array(out, "heights");
        for (int j = 0; j < post->n_heights; j++)
            ks_length_write(out, NULL, post->heights_mm[j]);
        ks_out_end(out);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void on_written(ks_json_out *out, const ks_placed *placed)
{
    if (!placed->on_id) {
        ks_out_null(out, "on");
        return;
    }
    ks_out_object_flat(out, "on");
    ks_out_text(out, "id", placed->on_id);
    ks_out_whole(out, "copy", placed->on_copy);
    ks_out_end(out);
}

void ks_parts_write(ks_json_out *out, const char *key, int n, const ks_part *parts)
{
    ks_out_array(out, key);
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "kind", ks_part_kind_name(parts[i].kind));
        ks_length_write(out, "from", parts[i].from_mm);
        ks_length_write(out, "to", parts[i].to_mm);
        ks_outline_write(out, "outline", &parts[i].outline);
        if (parts[i].hollow.n > 0)
            ks_outline_write(out, "hollow", &parts[i].hollow);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void write_placed(ks_json_out *out, const ks_placed *placed)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "id", placed->id);
    ks_out_whole(out, "copy", placed->copy);
    ks_out_text(out, "owner", placed->owner);
    ks_out_text(out, "role", ks_role_name(placed->role));
    ks_out_text(out, "pose", ks_pose_name(placed->pose));
    ks_length_write(out, "x", placed->stand.x);
    ks_length_write(out, "y", placed->stand.y);
    ks_length_write(out, "turn", placed->stand.turn_deg); /* KS_TURN_STEP is the grid's too */
    on_written(out, placed);
    if (placed->way != KS_NO_WAY)
        ks_out_text(out, "way", ks_way_name(placed->way));
    ks_out_bool(out, "glazed", placed->glazed);
    ks_length_write(out, "around", placed->around_mm);
    ks_length_write(out, "top", placed->top_mm);
    ks_parts_write(out, "parts", placed->n_parts, placed->parts);
    ks_out_end(out);
}

static void write_level(ks_json_out *out, const ks_level *level, const char *name)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "name", name);
    ks_out_text(out, "bay", level->bay);
    ks_length_write(out, "z", level->z_mm);
    ks_length_write(out, "gap", level->gap_mm);
    ks_out_array(out, "shelves");
    for (int i = 0; i < level->n_shelves; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", level->shelves[i].id);
        ks_outline_write(out, "outline", &level->shelves[i].outline);
        ks_length_write(out, "thickness", level->shelves[i].thickness_mm);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_array(out, "pieces");
    for (int i = 0; i < level->n_pieces; i++)
        write_placed(out, &level->pieces[i]);
    ks_out_end(out);
    ks_out_end(out);
}

/* What a step refers to, counted from 1; level 0 is the floor. */
static void write_reference(ks_json_out *out, const ks_load *load, const ks_step *step)
{
    ks_out_object_flat(out, "ref");
    ks_out_whole(out, "level", step->level + 1);
    if (step->item >= 0)
        ks_out_whole(out, "item", step->item + 1);
    bool of_piece = step->put == KS_PUT_PIECE || step->put == KS_PUT_CONES;
    if (of_piece && step->level >= 0 && step->level < load->n_levels && step->item >= 0 &&
        step->item < load->levels[step->level].n_pieces) {
        const ks_placed *placed = &load->levels[step->level].pieces[step->item];
        ks_out_text(out, "id", placed->id);
        ks_out_whole(out, "copy", placed->copy);
    }
    ks_out_end(out);
}

static void write_steps(ks_json_out *out, const ks_load *load)
{
    ks_out_array(out, "steps");
    for (int i = 0; i < load->n_steps; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "put", ks_word_at(KS_PUT_WORDS, (int)load->steps[i].put).text);
        write_reference(out, load, &load->steps[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
}

static void write_load(ks_json_out *out, const ks_load *load)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "kiln", load->kiln_id);
    if (load->day != KS_NO_DAY)
        ks_out_text(out, "date", ks_date_print(load->day, out->text.arena));
    ks_load_times_write(out, &load->times);
    write_firing(out, load);
    ks_chamber_write(out, "chamber", load->height_mm, load->n_parts, load->parts);
    ks_clearance_write(out, "clearance", &load->clearance);
    ks_keep_outs_write(out, "keep_outs", load->n_keep_outs, load->keep_outs);
    write_bays(out, load);
    write_posts(out, load);
    const char **names = ks_level_names(load, out->text.arena);
    ks_out_array(out, "levels");
    for (int i = 0; i < load->n_levels; i++)
        write_level(out, &load->levels[i], names[i]);
    ks_out_end(out);
    write_steps(out, load);
    ks_out_end(out);
}

/* A plan that was read keeps its texts, so that it has the bytes it had. */
static void write_waiting(ks_json_out *out, const ks_left_out *left, const ks_display *display)
{
    ks_arena *arena = out->text.arena;
    bool texts = left->why != NULL;
    const char *detail = texts ? left->detail : ks_reason_english(&left->rule, display, arena);
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "id", left->id);
    ks_out_whole(out, "count", left->count);
    ks_out_text(out, "why", texts ? left->why : ks_left_out_kind(left));
    if (detail && *detail)
        ks_out_text(out, "detail", detail);
    ks_out_text(out, "nearest",
                texts ? left->nearest : ks_reason_english(&left->change, display, arena));
    ks_reason_write(out, "rule", &left->rule);
    ks_reason_write(out, "change", &left->change);
    ks_out_end(out);
}

static void write_left_out(ks_json_out *out, const ks_plan *plan)
{
    ks_out_array(out, "left_out");
    for (int i = 0; i < plan->n_left_out; i++)
        write_waiting(out, &plan->left_out[i], &plan->order->display);
    ks_out_end(out);
}

double ks_plan_gap(const ks_plan *plan)
{
    if (plan->worth > 0)
        return (plan->bound - plan->worth) / plan->worth;
    return plan->bound > 0 ? INFINITY : 0;
}

/* What may change when a plan is handed on: it stands before the order. */
static void write_front(ks_json_out *out, const ks_plan *plan)
{
    ks_out_text(out, "format", "kilnstow-plan/1");
    ks_out_text(out, "version", plan->version);
    ks_out_whole(out, "seed", (int64_t)plan->seed);
    ks_out_whole(out, "rounds", plan->rounds);
    ks_out_text(out, "stopped_by", plan->stopped_by);
}

static void write_rest(ks_json_out *out, const ks_plan *plan)
{
    ks_out_text(out, "objective", ks_word_at(KS_OBJECTIVE_WORDS, (int)plan->objective).text);
    ks_out_number(out, "worth", plan->worth);
    ks_out_number(out, "bound", plan->bound);
    ks_out_text(out, "bound_kind", plan->bound_kind);
    ks_out_number(out, "bound_gap", ks_plan_gap(plan));
    ks_out_whole(out, "loads_at_least", plan->loads_at_least);
    ks_out_array(out, "loads");
    for (int i = 0; i < plan->n_loads; i++)
        write_load(out, &plan->loads[i]);
    ks_out_end(out);
    write_left_out(out, plan);
}

const char *ks_plan_json(const ks_plan *plan, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    write_front(&out, plan);
    ks_order_write(&out, "order", plan->order);
    write_rest(&out, plan);
    ks_out_end(&out);
    return ks_out_done(&out);
}

static ks_level level_without_parts(const ks_level *from, ks_arena *arena)
{
    ks_level level = *from;
    level.pieces = KS_TAKE(arena, from->n_pieces, ks_placed);
    for (int i = 0; i < from->n_pieces; i++) {
        level.pieces[i] = from->pieces[i];
        level.pieces[i].n_parts = 0;
    }
    return level;
}

static ks_plan without_parts(const ks_plan *from, ks_arena *arena)
{
    ks_plan plan = *from;
    plan.loads = KS_TAKE(arena, from->n_loads, ks_load);
    for (int l = 0; l < from->n_loads; l++) {
        plan.loads[l] = from->loads[l];
        plan.loads[l].levels = KS_TAKE(arena, from->loads[l].n_levels, ks_level);
        for (int v = 0; v < from->loads[l].n_levels; v++)
            plan.loads[l].levels[v] = level_without_parts(&from->loads[l].levels[v], arena);
    }
    return plan;
}

const char *ks_plan_brief(const ks_plan *plan, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_plan brief = without_parts(plan, arena);
    ks_out_object(&out, NULL);
    write_front(&out, &brief);
    write_rest(&out, &brief);
    ks_out_end(&out);
    return ks_out_done(&out);
}

const char *ks_plan_retold(const ks_plan *plan, const char *text, ks_arena *arena)
{
    static const char order[] = "\n  \"order\": "; /* a text holds no line end, so it is the key */
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    write_front(&out, plan);
    ks_out_end(&out);
    const char *front = ks_out_done(&out), *rest = strstr(text, order);
    size_t whole = strlen(front) - strlen("\n}\n"), more = strlen(rest);
    char *told = ks_arena_take(arena, whole + 1 + more + 1, 1);
    memcpy(told, front, whole);
    told[whole] = ',';
    memcpy(told + whole + 1, rest, more);
    return told;
}

const char *ks_plan_hash(const ks_plan *plan, ks_arena *arena)
{
    char *hex = ks_arena_take(arena, 65, 1);
    const char *text = ks_plan_json(plan, arena);
    ks_sha256(text, strlen(text), hex);
    return hex;
}
