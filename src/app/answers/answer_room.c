#include "app/answers/answer_room.h"

#include "app/answers/answer_frame.h"
#include "studio/left_out.h"
#include "studio/level_name.h"

#include <math.h>

int ks_copies_waiting(const ks_plan *plan, int piece)
{
    for (int i = 0; i < plan->n_left_out; i++)
        if (plan->left_out[i].piece == piece)
            return plan->left_out[i].count;
    return 0;
}

static void add_kinds(ks_json_out *out, const ks_plan *plan, int n, const ks_kind_room *kinds)
{
    ks_out_array(out, "kinds");
    for (int i = 0; i < n; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", plan->order->pieces[kinds[i].piece].id);
        ks_out_whole(out, "copies", kinds[i].copies);
        ks_out_whole(out, "waiting", ks_copies_waiting(plan, kinds[i].piece));
        ks_out_end(out);
    }
    ks_out_end(out);
}

static double rounded_down(double mm)
{
    return floor(mm * 10) / 10;
}

static void add_level(ks_json_out *out, const ks_plan *plan, const ks_level_room *room,
                      const char *name)
{
    ks_out_object(out, NULL);
    ks_out_text(out, "level", name);
    ks_out_number(out, "tallest_mm", rounded_down(room->height_mm));
    ks_out_number(out, "widest_mm", rounded_down(room->width_mm));
    if (room->width_mm > 0) {
        ks_out_number(out, "x_mm", room->x_mm);
        ks_out_number(out, "y_mm", room->y_mm);
    }
    add_kinds(out, plan, room->n_kinds, room->kinds);
    ks_out_end(out);
}

static void add_load(ks_json_out *out, const ks_plan *plan, int load, const ks_load_room *room)
{
    const char **names = ks_level_names(&plan->loads[load], out->text.arena);
    ks_out_object(out, NULL);
    ks_out_whole(out, "load", load + 1);
    ks_out_text(out, "kiln", plan->loads[load].kiln_id);
    ks_out_text(out, "why_not", room->why_not);
    ks_out_array(out, "levels");
    for (int l = 0; !room->why_not && l < room->n_levels; l++)
        add_level(out, plan, &room->levels[l], names[l]);
    ks_out_end(out);
    add_kinds(out, plan, room->n_kinds, room->kinds);
    ks_out_end(out);
}

/* What waits, in words: a plan's file tells it in English. */
static void add_waiting(ks_json_out *out, const ks_plan *plan)
{
    const ks_display *display = &plan->order->display;
    ks_out_array(out, "waiting");
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", left->id);
        ks_out_whole(out, "count", left->count);
        ks_out_text(out, "why", ks_left_out_why(left, display, out->text.arena));
        ks_out_text(out, "nearest", ks_left_out_nearest(left, display, out->text.arena));
        ks_out_end(out);
    }
    ks_out_end(out);
}

const char *ks_answer_room(const ks_plan *plan, const ks_load_room *rooms, ks_arena *arena)
{
    ks_json_out out = {.text.arena = arena};
    ks_answer_open(&out, "list", "done");
    ks_answer_warnings(&out, plan->order);
    ks_out_object(&out, "result");
    ks_out_array(&out, "loads");
    for (int l = 0; l < plan->n_loads; l++)
        add_load(&out, plan, l, &rooms[l]);
    ks_out_end(&out);
    add_waiting(&out, plan);
    return ks_answer_close(&out);
}
