/* Which dated ware is in time: the lid can be opened by 18:00 on its day, by the studio's clock. */
#include "app/calendar_loads.h"

#include "studio/late_ware.h"

enum { MINUTE_S = 60, DAY_S = KS_DAY_MIN * MINUTE_S, DUE_S = KS_DUE_BY_MIN * MINUTE_S };

typedef struct {
    ks_calendar_outcome *out;
    ks_arena *arena;
    int room;
} due_list;

/* Of what was planned, for a full kiln, and what is simulated for the ware that is in it, the
 * later: what the plan calls late is late here, too. */
static int64_t opens_s(const ks_calendar_load *load)
{
    bool later = load->is_planned && load->planned.open_s > load->at.open_s;
    return later ? load->planned.open_s : load->at.open_s;
}

static void add_due(due_list *to, ks_calendar_due due)
{
    ks_calendar_outcome *out = to->out;
    const ks_piece *piece = &due.of->plan->order->pieces[due.piece];
    due.due_s = ks_utc_of_local(&out->rule, (int64_t)piece->due_day * DAY_S + DUE_S);
    due.opens_s = due.load < 0 ? KS_NO_TIME : opens_s(&out->loads[due.load]);
    due.late = due.load < 0 || due.opens_s > due.due_s;
    out->dues = KS_GROW(to->arena, out->dues, out->n_dues, &to->room, ks_calendar_due);
    out->dues[out->n_dues++] = due;
}

static void add_load(due_list *to, int at)
{
    const ks_calendar_load *load = &to->out->loads[at];
    const ks_order *order = load->of->plan->order;
    const int *copies = ks_load_copies(load->of->plan, load->load, to->arena);
    for (int i = 0; i < order->n_pieces; i++)
        if (copies[i] > 0 && order->pieces[i].due_day != KS_NO_DAY)
            add_due(to,
                    (ks_calendar_due){.of = load->of, .piece = i, .load = at, .copies = copies[i]});
}

void ks_calendar_dues_find(int n_plans, const ks_calendar_plan *plans, ks_calendar_outcome *out,
                           ks_arena *arena)
{
    due_list to = {out, arena, 0};
    for (int i = 0; i < out->n_loads; i++)
        add_load(&to, i);
    for (int p = 0; p < n_plans; p++)
        for (int i = 0; i < plans[p].plan->n_left_out; i++) {
            const ks_left_out *left = &plans[p].plan->left_out[i];
            if (left->piece >= 0 && left->count > 0 &&
                plans[p].plan->order->pieces[left->piece].due_day != KS_NO_DAY)
                add_due(&to, (ks_calendar_due){.of = &plans[p],
                                               .piece = left->piece,
                                               .load = -1,
                                               .copies = left->count});
        }
}
