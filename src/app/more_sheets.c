#include "app/more_sheets.h"

#include "app/calendar_run.h"
#include "app/calendar_words.h"
#include "app/costs/price_list.h"
#include "app/curve_chart.h"
#include "base/language.h"
#include "base/money_text.h"
#include "studio/display.h"

#include <math.h>

ks_status ks_sheets_fire(ks_plan *plan, const ks_draw_options *options, bool firing, bool costs,
                         ks_arena *arena, ks_fire_outcome *out, ks_error *err)
{
    ks_fire_job job = {.load = costs ? -1 : options->load, .options = ks_fire_default()};
    job.options.range = job.options.pace = firing; /* costs tell neither */
    return ks_fire_loads(&job, plan, arena, out, err);
}

void ks_sheets_add_firing(const ks_fire_outcome *fired, ks_draw_options *options, ks_arena *arena)
{
    ks_chart *charts = KS_TAKE(arena, fired->n_loads, ks_chart);
    int n = 0;
    for (int i = 0; i < fired->n_loads; i++)
        if (options->load < 0 || fired->loads[i] == options->load)
            charts[n++] = ks_curve_chart(
                &(ks_fired_curve){fired->plan, fired->loads[i], &fired->fired[i], NULL}, arena);
    options->n_charts = n;
    options->charts = charts;
}

typedef struct {
    ks_arena *arena;
    int n, room;
    const char **lines;
} note_lines;

static void add(note_lines *notes, const char *line)
{
    notes->lines = KS_GROW(notes->arena, notes->lines, notes->n, &notes->room, const char *);
    notes->lines[notes->n++] = line;
}

/* "2. 150 °C/h to 1222 °C, hold 15 min". */
static const char *segment_words(const ks_display *display, const ks_segment_fired *segment,
                                 int nth, ks_arena *arena)
{
    const char *to = ks_show_temp(display, ks_segment_target_c(segment), arena);
    const char *words =
        segment->asked.rate_c_h == 0
            ? ks_arena_print(arena, "%d. full power to %s", nth, to)
            : ks_arena_print(arena, "%d. %s to %s", nth,
                             ks_show_rate(display, segment->asked.rate_c_h, arena), to);
    return segment->asked.hold_h > 0
               ? ks_arena_print(arena, "%s, hold %.0f min", words, 60 * segment->asked.hold_h)
               : words;
}

/* On the studio's clock where the load has a date. */
static void add_clock(note_lines *notes, const ks_calendar_outcome *outcome,
                      const ks_calendar_load *load)
{
    ks_arena *arena = notes->arena;
    add(notes,
        ks_arena_print(arena, "On: %s", ks_calendar_time_words(outcome, load->at.on_s, arena)));
    if (load->at.cone_down_s != KS_NO_TIME)
        add(notes, ks_arena_print(arena, "Cone down: about %s",
                                  ks_calendar_time_words(outcome, load->at.cone_down_s, arena)));
    add(notes, ks_arena_print(arena, "Open: from %s, not before",
                              ks_calendar_time_words(outcome, load->at.open_s, arena)));
}

static void add_elapsed(note_lines *notes, const ks_firing_result *fired)
{
    ks_arena *arena = notes->arena;
    if (isfinite(fired->cone_down_h))
        add(notes, ks_arena_print(arena, "Cone down: after about %s",
                                  ks_show_hours(fired->cone_down_h, arena)));
    if (isfinite(fired->open_after_hours))
        add(notes,
            ks_arena_print(arena, "Open: after %s, not before",
                           ks_show_hours(ceil(fired->hours + fired->open_after_hours), arena)));
}

static ks_load_notes notes_of(const ks_calendar_outcome *outcome, const ks_calendar_load *load,
                              ks_arena *arena)
{
    enum { MOST_SEGMENTS = 5 };
    note_lines notes = {.arena = arena};
    const ks_firing_result *fired = load->fired;
    int shown = fired->n_segments > MOST_SEGMENTS ? MOST_SEGMENTS - 1 : fired->n_segments;
    for (int i = 0; i < shown; i++)
        add(&notes,
            segment_words(&load->of->plan->order->display, &fired->segments[i], i + 1, arena));
    if (shown < fired->n_segments)
        add(&notes, ks_arena_print(arena, "… and %d more: print the sheet \"firing\"",
                                   fired->n_segments - shown));
    if (load->proposed)
        add_elapsed(&notes, fired);
    else
        add_clock(&notes, outcome, load);
    add(&notes, ks_tr("By simulation: be there when it should end."));
    return (ks_load_notes){notes.n, notes.lines};
}

/* Ware can be loaded though its firing cannot be simulated: the sheet says why it tells no times.
 */
static void untimed(const ks_plan *plan, ks_load_notes *notes, const ks_error *why, ks_arena *arena)
{
    for (int i = 0; i < plan->n_loads; i++) {
        const char **line = KS_TAKE(arena, 1, const char *);
        *line = ks_arena_print(arena, "Not simulated: %s", why->text);
        notes[i] = (ks_load_notes){1, line};
    }
}

ks_status ks_sheets_add_notes(ks_plan *plan, const ks_fire_outcome *fired, const ks_error *why,
                              ks_draw_options *options, ks_arena *arena, ks_error *err)
{
    ks_calendar_outcome outcome;
    const ks_calendar_plan of = {"", plan, fired};
    const ks_calendar_job job = {.load = options->load};
    ks_load_notes *notes = KS_TAKE(arena, plan->n_loads, ks_load_notes);
    options->n_notes = plan->n_loads;
    options->notes = notes;
    ks_error no_time = {0};
    ks_status status = fired ? ks_calendar_of(&job, 1, &of, arena, &outcome, &no_time) : KS_OK;
    if (!fired || status == KS_BAD_INPUT) {
        untimed(plan, notes, fired ? &no_time : why, arena);
        return KS_OK;
    }
    if (status)
        return ks_fail(err, status, "%s", no_time.text);
    for (int i = 0; i < outcome.n_loads; i++)
        notes[outcome.loads[i].load] = notes_of(&outcome, &outcome.loads[i], arena);
    return KS_OK;
}

static const char *money(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return ks_money_print(minor, costing->digits, arena);
}

static const char *price(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return minor == KS_NO_PRICE ? "-" : money(costing, minor, arena);
}

/* Told on one line: the same ware at the same cost, in whichever load it is. */
static bool cost_alike(const ks_piece_cost *a, const ks_piece_cost *b)
{
    return a->piece == b->piece && a->cost_minor == b->cost_minor;
}

/* How many are like piece `i`; 0 where one before it is, that line tells it. */
static int cost_copies(const ks_costing *costing, int i)
{
    int n = 0;
    for (int j = 0; j < costing->n_pieces; j++) {
        bool alike = cost_alike(&costing->pieces[j], &costing->pieces[i]);
        if (alike && j < i)
            return 0;
        n += alike;
    }
    return n;
}

/* A loss is told by a word: a sign is overlooked on paper. */
static const char *margin_words(const ks_order *order, const ks_piece_cost *cost, ks_arena *arena)
{
    double margin = ks_piece_margin(order, cost);
    if (isnan(margin))
        return "";
    return margin < 0 ? ks_arena_print(arena, "loss %.1f %%", -100 * margin)
                      : ks_arena_print(arena, "%.1f %%", 100 * margin);
}

static const char *share_name(const ks_share *share)
{
    return *share->member ? share->name : ks_tr(share->name);
}

static ks_table pieces_table(const ks_plan *plan, const ks_costing *costing, ks_arena *arena)
{
    static const ks_table_column columns[] = {
        {KS_WORDS("Piece"), 25, false},    {KS_WORDS("Owner"), 14, false},
        {KS_WORDS("Copies"), 10, true},    {KS_WORDS("Cost"), 10, true},
        {KS_WORDS("Wholesale"), 14, true}, {KS_WORDS("Retail"), 10, true},
        {KS_WORDS("Own price"), 15, true}, {KS_WORDS("Margin"), 20, true}};
    enum { COLUMNS = sizeof columns / sizeof *columns };
    const char **cells = KS_TAKE(arena, COLUMNS * costing->n_pieces, const char *), **at = cells;
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        const ks_piece *piece = &plan->order->pieces[cost->piece];
        int copies = cost_copies(costing, i);
        if (copies == 0)
            continue;
        *at++ = piece->name;
        *at++ = share_name(&costing->shares[cost->payer]);
        *at++ = ks_arena_print(arena, "%d", copies);
        *at++ = money(costing, cost->cost_minor, arena);
        *at++ = price(costing, cost->wholesale_minor, arena);
        *at++ = price(costing, cost->shop_minor, arena);
        *at++ = piece->price_minor > 0 ? money(costing, piece->price_minor, arena) : "";
        *at++ = margin_words(plan->order, cost, arena);
    }
    return (ks_table){
        .title = ks_tr("What each piece costs"),
        .below = ks_arena_print(arena, "All amounts in %s for one piece", costing->currency),
        .kind = ks_tr("Costs"),
        .n_columns = COLUMNS,
        .columns = columns,
        .n_rows = (int)((at - cells) / COLUMNS),
        .cells = cells,
        .note = ks_tr("Wholesale and retail are proposed from the cost; retail is what a customer "
                      "pays, sales tax in it. The margin is what is left of your own price, tax "
                      "taken off, after the cost.")};
}

/* What is paid, or, of a negative sum, given back. */
static const char *pays_words(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    const char *sum = money(costing, minor < 0 ? -minor : minor, arena);
    return minor < 0 ? ks_arena_print(arena, "gets %s %s", sum, costing->currency)
                     : ks_arena_print(arena, "%s %s", sum, costing->currency);
}

static ks_table shares_table(const ks_costing *costing, ks_arena *arena)
{
    static const ks_table_column columns[] = {
        {KS_WORDS("Who"), 50, false}, {KS_WORDS("Pieces"), 20, true}, {KS_WORDS("Pays"), 30, true}};
    const char **cells = KS_TAKE(arena, 3 * costing->n_shares, const char *), **at = cells;
    for (int i = 0; i < costing->n_shares; i++) {
        const ks_share *share = &costing->shares[i];
        if (share->pieces == 0 && share->minor == 0)
            continue;
        *at++ = share_name(share);
        *at++ = ks_arena_print(arena, "%d", share->pieces);
        *at++ = pays_words(costing, share->minor, arena);
    }
    return (ks_table){.title = ks_tr("Who owes what"),
                      .below = ks_arena_print(arena, "Together %s %s: the bill, to the last cent",
                                              money(costing, costing->total_minor, arena),
                                              costing->currency),
                      .kind = ks_tr("Shares"),
                      .n_columns = 3,
                      .columns = columns,
                      .n_rows = (int)((at - cells) / 3),
                      .cells = cells,
                      .note = costing->rule == KS_SHARE_RATE
                                  ? ks_tr("Firings are charged by the studio's list: what its fees "
                                          "bring above the bills is the studio's, and what they "
                                          "lack it pays.")
                                  : ""};
}

ks_status ks_sheets_add_costs(const ks_fire_outcome *fired, ks_cost_sheets wanted,
                              ks_draw_options *options, ks_arena *arena, ks_error *err)
{
    ks_plan *plan = fired->plan;
    ks_costing costing;
    ks_cost_options by_the_order = {.rule = -1};
    ks_status status = ks_cost(plan, fired->fired, &by_the_order, arena, &costing, err);
    if (status)
        return status;
    if (wanted.prices)
        options->prices = ks_prices_listed(plan, &costing, options->full_names, arena);
    if (!wanted.tables)
        return KS_OK;
    ks_table *tables = KS_TAKE(arena, 2, ks_table);
    tables[0] = pieces_table(plan, &costing, arena);
    tables[1] = shares_table(&costing, arena);
    options->tables = tables;
    options->n_tables = plan->order->n_members > 0 ? 2 : 1;
    return KS_OK;
}
