#include "app/costs/kilns_compared.h"

#include "base/file.h"
#include "kilnstow/place.h"

#include <string.h>

enum { ROUNDS = 2, MOST_KILNS = 40 };

typedef struct {
    const ks_plan *plan;
    int load;
    const char *kiln_folder;
    const ks_cost_options *options;
    ks_arena *arena;
} comparison;

static int firing_of(const ks_order *order, const ks_firing *firing)
{
    for (int i = 0; i < order->n_firings; i++)
        if (firing->id && strcmp(order->firings[i].id, firing->id) == 0)
            return i;
    return -1;
}

/* The load's ware and nothing else, to be fired once in this kiln; nobody is promised a place. */
static ks_order *order_for(const comparison *of, const ks_kiln *kiln)
{
    const ks_order *order = of->plan->order;
    const int *copies = ks_load_copies(of->plan, of->load, of->arena);
    ks_order *asked = KS_TAKE(of->arena, 1, ks_order);
    *asked = *order;
    asked->n_kilns = asked->n_slots = 1;
    asked->kilns = KS_TAKE(of->arena, 1, ks_kiln);
    asked->kilns[0] = *kiln;
    asked->slots = KS_TAKE(of->arena, 1, ks_slot);
    asked->slots[0] =
        (ks_slot){.firing = firing_of(order, &of->plan->loads[of->load].firing), .day = KS_NO_DAY};
    asked->pieces = KS_TAKE(of->arena, order->n_pieces, ks_piece);
    asked->n_pieces = 0;
    for (int i = 0; i < order->n_pieces; i++) {
        ks_piece piece = order->pieces[i];
        piece.count = copies[i];
        piece.must_go = piece.keep.kept = piece.fill = piece.locked_out = false;
        piece.due_day = KS_NO_DAY;
        if (copies[i] > 0)
            asked->pieces[asked->n_pieces++] = piece;
    }
    return asked;
}

static ks_status plan_for(const ks_order *order, ks_arena *arena, ks_plan **plan, ks_error *err)
{
    ks_placing *placing = NULL;
    ks_place_options options = ks_place_default();
    ks_progress progress;
    options.rounds = ROUNDS;
    ks_status status = ks_placing_create(order, &options, &placing, err);
    for (bool more = true; !status && more;)
        status = ks_placing_step(placing, &more, &progress, err);
    if (!status)
        *plan = ks_placing_sketch(placing, "rounds", arena);
    ks_placing_destroy(placing);
    return status;
}

/* One load of a plan, fired and billed. */
static ks_status fill_row(const comparison *of, const ks_plan *plan, int load, ks_kiln_row *row,
                          ks_error *err)
{
    ks_fire_options firing = ks_fire_default();
    ks_firing_result fired;
    ks_costing costing;
    ks_plan one = *plan;
    one.n_loads = 1;
    one.loads = &plan->loads[load];
    firing.cooling = true;
    firing.range = false; /* none is told */
    row->pieces = ks_plan_placed(&one) + ks_plan_filled(&one);
    ks_status status = ks_fire(&one, &firing, of->arena, &fired, err);
    if (!status)
        status = ks_cost(&one, &fired, of->options, of->arena, &costing, err);
    if (status)
        return status;
    row->reached = fired.reached;
    row->kwh = fired.energy.total;
    row->hours = fired.hours;
    row->open_h = fired.hours + fired.open_after_hours;
    row->bill_minor = costing.loads[0].total_minor;
    return KS_OK;
}

/* What can't be costed in one kiln, for want of a price of its gas say, is told in its row. */
static void compare_one(const comparison *of, ks_kiln_row *row)
{
    ks_error why = {0};
    ks_plan *plan = NULL;
    ks_status status = KS_OK;
    if (!row->as_planned)
        status = plan_for(order_for(of, row->kiln), of->arena, &plan, &why);
    if (!status && plan && plan->n_loads == 0)
        status = ks_fail(&why, KS_BAD_INPUT, "nothing of the load goes in");
    if (!status)
        status = fill_row(of, plan ? plan : of->plan, plan ? 0 : of->load, row, &why);
    if (status)
        row->why_not = ks_arena_text(of->arena, why.text);
}

static ks_status find_kiln(const comparison *of, const char *name, const ks_kiln **out,
                           ks_error *err)
{
    const ks_order *order = of->plan->order;
    for (int k = 0; k < order->n_kilns; k++)
        if (strcmp(order->kilns[k].id, name) == 0) {
            *out = &order->kilns[k];
            return KS_OK;
        }
    ks_kiln *kiln = KS_TAKE(of->arena, 1, ks_kiln);
    const char *path = name;
    if (!ks_path_ends(name, ".json"))
        path = ks_path_join(of->kiln_folder, ks_arena_print(of->arena, "%s.json", name), of->arena);
    *out = kiln;
    ks_error unread = {0};
    ks_status status = ks_kiln_read(path, of->arena, kiln, &unread);
    if (!status || ks_path_ends(name, ".json"))
        return status ? ks_fail(err, status, "%s", unread.text) : KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--kilns: found \"%s\"; it takes \"all\" for those of the order, or ids of its "
                   "kilns, built-in ones (kilnstow list kilns) and files, with commas between",
                   name);
}

static void add_row(ks_kilns_compared *out, const ks_kiln *kiln)
{
    for (int i = 0; i < out->n; i++)
        if (strcmp(out->rows[i].kiln->id, kiln->id) == 0)
            return;
    out->rows[out->n++] = (ks_kiln_row){.kiln = kiln};
}

static ks_status name_rows(const comparison *of, const char *kilns, ks_kilns_compared *out,
                           ks_error *err)
{
    const ks_order *order = of->plan->order;
    bool all = strcmp(kilns, "all") == 0;
    for (int k = 0; all && k < order->n_kilns; k++)
        add_row(out, &order->kilns[k]);
    ks_status status = KS_OK;
    for (const char *at = kilns; *at && !all && !status; at += *at == ',') {
        size_t length = strcspn(at, ",");
        const ks_kiln *kiln;
        if (out->n > MOST_KILNS)
            return ks_fail(err, KS_BAD_USAGE, "--kilns: found more than %d kilns", MOST_KILNS);
        status = find_kiln(of, ks_arena_text_n(of->arena, at, length), &kiln, err);
        if (!status)
            add_row(out, kiln);
        at += length;
    }
    return status;
}

ks_status ks_kilns_compare(const ks_plan *plan, int load, const char *kilns,
                           const char *kiln_folder, const ks_cost_options *options, ks_arena *arena,
                           ks_kilns_compared *out, ks_error *err)
{
    comparison of = {plan, load, kiln_folder, options, arena};
    if (load < 0 || load >= plan->n_loads)
        return ks_fail(err, KS_BAD_USAGE, "--load: found %d; the plan has %d", load + 1,
                       plan->n_loads);
    *out = (ks_kilns_compared){.load = load};
    out->rows = KS_TAKE(arena, plan->order->n_kilns + MOST_KILNS + 2, ks_kiln_row);
    add_row(out, &plan->order->kilns[plan->loads[load].kiln]);
    out->rows[0].as_planned = true;
    ks_status status = name_rows(&of, kilns, out, err);
    for (int i = 0; i < out->n && !status; i++)
        compare_one(&of, &out->rows[i]);
    out->pieces = out->rows[0].pieces;
    return status;
}
