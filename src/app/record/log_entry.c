#include "app/record/log_entry.h"

#include "app/machine/now.h"
#include "app/measured/measured_file.h"
#include "app/record/loss_rates.h"
#include "app/record/phone_text.h"
#include "app/record/put_right.h"
#include "base/days/civil.h"
#include "base/days/date.h"
#include "base/text.h"
#include "base/units.h"
#include "base/words.h"
#include "clock/start.h"
#include "kilnstow/cone.h"
#include "kilnstow/cost.h"
#include "studio/left_out.h"
#include "studio/level_name.h"

#include <math.h>
#include <string.h>

/* Beside the reasons of plans, as the record keeps them. */
static const char not_put_in[] = "not put in";

enum { MINUTE_S = 60, DAY_TEXT = 10 };
#define MOST_KWH 1e6
/* Beyond these, times what the model says, a meter is more likely misread than the model wrong. */
#define LEAST_OF_MODEL 0.5
#define MOST_OF_MODEL 2.0

/* What every option of an entry is read with. */
typedef struct {
    const ks_plan *plan;
    const ks_load *load;
    const ks_log_told *told;
    ks_arena *arena;
    ks_book_firing *entry;
    ks_log_notes *notes;
    ks_error *err;
    const ks_firing_result *fired; /* the model's answer to the same load */
} reading;

static void note(const reading *r, const char *text)
{
    if (r->notes->n < (int)(sizeof r->notes->texts / sizeof *r->notes->texts))
        r->notes->texts[r->notes->n++] = text;
}

/* "2026-11-28 18:00", or the day alone. */
static ks_status read_moment(const reading *r, const char *option, const char *text,
                             const char **out)
{
    int day;
    int64_t minute;
    if (ks_date_parse(text, &day) && !ks_moment_parse(text, &minute))
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; it takes a time like \"2026-11-28 18:00\", or a day",
                       option, text);
    *out = text;
    return KS_OK;
}

static const char *today(const reading *r)
{
    ks_zone_rule zone = ks_studio_zone(r->plan->order);
    const char *now = ks_civil_print(ks_local_of_utc(&zone, ks_now()), r->arena);
    return ks_arena_text_n(r->arena, now, DAY_TEXT);
}

/* When it was switched on: as told, else as planned, else today. */
static ks_status read_times(const reading *r)
{
    ks_book_firing *entry = r->entry;
    ks_status status = KS_OK;
    if (r->told->start) {
        status = read_moment(r, "start", r->told->start, &entry->started);
    } else if (!*entry->started) {
        ks_start planned = ks_load_start(r->plan->order, r->load);
        entry->started =
            planned.known ? ks_civil_print(planned.local_min * MINUTE_S, r->arena) : today(r);
        note(r, planned.known ? "it was switched on when the plan says; --start tells when it was"
                              : "it was fired today; --start tells when it was");
    }
    if (!status && r->told->end)
        status = read_moment(r, "end", r->told->end, &entry->ended);
    if (!status && *entry->ended && strcmp(entry->ended, entry->started) < 0)
        return ks_fail(r->err, KS_BAD_USAGE, "--end: found \"%s\", before its start at %s",
                       entry->ended, entry->started);
    return status;
}

static ks_status read_reading(const reading *r, const char *text, double *out)
{
    if (!ks_number_parse(text, out) && *out >= 0 && *out < 1e9)
        return KS_OK;
    return ks_fail(r->err, KS_BAD_USAGE,
                   "--meter: found \"%s\"; it takes the readings before and after, such as "
                   "--meter 48210.4 48271.7",
                   text);
}

static ks_status read_meter(const reading *r)
{
    ks_book_firing *entry = r->entry;
    ks_status status = read_reading(r, r->told->meter[0], &entry->meter_from);
    if (!status)
        status = read_reading(r, r->told->meter[1], &entry->meter_to);
    if (status)
        return status;
    double used = entry->meter_to - entry->meter_from;
    if (!(used > 0))
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--meter: found %s before and %s after; the second must be higher (a meter "
                       "that began anew: give what was drawn with --kwh)",
                       r->told->meter[0], r->told->meter[1]);
    return ks_book_meter_kwh(r->fired, entry->meter_unit, used, &entry->kwh, r->err);
}

static ks_status read_unit(const reading *r)
{
    const char *unit = r->told->unit;
    if (!unit)
        return KS_OK;
    if (strcmp(unit, "kWh") != 0 && strcmp(unit, "m3") != 0 && strcmp(unit, "kg") != 0)
        return ks_fail(r->err, KS_BAD_USAGE, "--unit: found \"%s\"; it takes kWh, m3 or kg", unit);
    r->entry->meter_unit = unit;
    return KS_OK;
}

static ks_status read_energy(const reading *r)
{
    ks_status status = read_unit(r);
    if (status)
        return status;
    bool told = !isnan(r->told->kwh);
    if (told && r->told->meter[0])
        return ks_fail(r->err, KS_BAD_USAGE, "--kwh: found beside --meter; give one of the two");
    if (r->told->meter[0])
        return read_meter(r);
    if (told) {
        r->entry->kwh = r->told->kwh;
        r->entry->meter_from = r->entry->meter_to = NAN;
    }
    return KS_OK;
}

static const char *names_of(const reading *r)
{
    const char **names = ks_level_names(r->load, r->arena);
    ks_text all = {.arena = r->arena};
    for (int l = 0; l < r->load->n_levels; l++)
        ks_text_add(&all, ks_joined(l > 0 ? ", " : "", names[l], "", r->arena));
    return ks_text_end(&all);
}

/* NULL where the load has none of that name. */
static const ks_level *level_of(const reading *r, const char *name)
{
    const char **names = ks_level_names(r->load, r->arena);
    for (int l = 0; l < r->load->n_levels; l++)
        if (strcmp(names[l], name) == 0)
            return &r->load->levels[l];
    return NULL;
}

/* LEVEL=CONE, or LEVEL:SIDE=CONE. */
static ks_status read_cone(const reading *r, const char *text, ks_cone_seen *out)
{
    static const char sides[] = "front|back|left|right|middle";
    const char *equals = strchr(text, '='), *colon = strchr(text, ':');
    double place;
    if (!equals || (colon && colon > equals))
        colon = NULL;
    const char *before = equals ? ks_arena_text_n(r->arena, text, (size_t)(equals - text)) : text;
    *out = (ks_cone_seen){before, "", equals ? equals + 1 : "", NAN};
    if (colon) {
        out->level = ks_arena_text_n(r->arena, text, (size_t)(colon - text));
        out->side = ks_arena_text_n(r->arena, colon + 1, (size_t)(equals - colon - 1));
    }
    if (!equals || !ks_cone_place_read(out->cone, &place))
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--cone: found \"%s\"; it takes a level and the cone that is down there, "
                       "such as 3=6, 3:back=6 or 3=5.5+0.4 (not half way from 5.5 to the next)",
                       text);
    const ks_level *level = level_of(r, out->level);
    if (!level)
        return ks_fail(r->err, KS_BAD_USAGE, "--cone: found level \"%s\"; the load has %s",
                       out->level, names_of(r));
    if (*out->side && !ks_word_among(out->side, sides))
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--cone: found side \"%s\"; it takes front, back, left, right or middle",
                       out->side);
    out->height = level->z_mm / r->load->height_mm;
    return KS_OK;
}

/* "mug|bowl" of what was in the load. */
static const char *ids_in(const reading *r)
{
    ks_text ids = {.arena = r->arena};
    for (int l = 0; l < r->load->n_levels; l++)
        for (int p = 0; p < r->load->levels[l].n_pieces; p++)
            ks_text_add(&ids, ks_joined(ids.length > 0 ? "|" : "", r->load->levels[l].pieces[p].id,
                                        "", r->arena));
    return ks_text_end(&ids);
}

static int copies_in(const ks_load *load, const char *id)
{
    int n = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int p = 0; p < load->levels[l].n_pieces; p++)
            n += load->levels[l].pieces[p].role != KS_CONES &&
                 strcmp(load->levels[l].pieces[p].id, id) == 0;
    return n;
}

/* "mug x 2" into its id and count; 1 where none is told. */
static const char *split_count(const reading *r, const char *text, size_t length, int *copies)
{
    const char *whole = ks_arena_text_n(r->arena, text, length);
    *copies = 1;
    for (size_t i = length; i > 1; i--)
        if (whole[i - 1] == 'x' && whole[i - 2] == ' ') {
            double number;
            if (ks_number_parse(whole + i + (whole[i] == ' '), &number) || number < 1 ||
                number > 1e6 || number != floor(number))
                break;
            *copies = (int)number;
            length = i - 2;
            break;
        }
    while (length > 0 && whole[length - 1] == ' ')
        length--;
    return ks_arena_text_n(r->arena, whole, length);
}

static const char *third_of(const reading *r, const ks_level *level)
{
    return ks_third_name(ks_third_of(level->z_mm / r->load->height_mm));
}

/* "mug on 3" into how much of it names the piece, and the level, NULL = none is told; what follows
 * " on " and is no level belongs to the piece. */
static size_t split_level(const reading *r, const char *text, size_t length, const ks_level **level,
                          const char **name)
{
    enum { MARK = 4 }; /* length of " on " */
    const char *whole = ks_arena_text_n(r->arena, text, length), *found = NULL;
    for (const char *at = strstr(whole, " on "); at; at = strstr(at + 1, " on "))
        found = at;
    *level = found ? level_of(r, found + MARK) : NULL;
    *name = *level ? found + MARK : "";
    return *level ? (size_t)(found - whole) : length;
}

static const char *nearest_among(const reading *r, const char *id, const char *ids)
{
    const char *nearest = ks_word_nearest(id, ids, r->arena);
    return nearest ? ks_arena_print(r->arena, ", nearest is %s", nearest) : "";
}

/* PIECE: why, or PIECE x N on LEVEL: why. */
static ks_status read_loss(const reading *r, const char *option, const char *text, ks_loss *out)
{
    const char *colon = strchr(text, ':'), *name;
    const ks_level *level;
    if (!colon)
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; it takes a piece and why, such as \"mug: cracked\" "
                       "or \"mug x 2 on 3: cracked\" (of level 3)",
                       option, text);
    size_t length = split_level(r, text, (size_t)(colon - text), &level, &name);
    out->third = level ? third_of(r, level) : "";
    out->piece = split_count(r, text, length, &out->copies);
    out->why = colon + 1 + strspn(colon + 1, " ");
    int there = copies_in(r->load, out->piece);
    if (there == 0)
        return ks_fail(r->err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; no piece of that id was in the load%s", option,
                       out->piece, nearest_among(r, out->piece, ids_in(r)));
    if (out->copies > there)
        return ks_fail(r->err, KS_BAD_USAGE, "--%s: found %d x %s; %d were in the load", option,
                       out->copies, out->piece, there);
    return KS_OK;
}

/* Losses and what goes in again; what is not told stays. */
static ks_status read_losses(const reading *r, const char *option, ks_log_texts told, int *n,
                             ks_loss **out)
{
    ks_status status = KS_OK;
    if (told.n == 0)
        return KS_OK;
    *out = KS_TAKE(r->arena, told.n, ks_loss);
    *n = told.n;
    for (int i = 0; i < told.n && !status; i++)
        status = read_loss(r, option, told.texts[i], &(*out)[i]);
    return status;
}

static int told_of(int n, const ks_loss *told, const char *id)
{
    int copies = 0;
    for (int i = 0; i < n; i++)
        if (strcmp(told[i].piece, id) == 0)
            copies += told[i].copies;
    return copies;
}

/* A copy is good, lost or to be fired again, one of these. */
static ks_status check_outcome(const reading *r)
{
    const ks_book_firing *entry = r->entry;
    for (int i = 0; i < entry->n_losses + entry->n_again; i++) {
        const ks_loss *loss =
            i < entry->n_losses ? &entry->losses[i] : &entry->again[i - entry->n_losses];
        int lost = told_of(entry->n_losses, entry->losses, loss->piece);
        int again = told_of(entry->n_again, entry->again, loss->piece);
        int there = copies_in(r->load, loss->piece);
        if (lost + again > there)
            return ks_fail(r->err, KS_BAD_USAGE,
                           "--lost, --refire: found %d x %s lost and %d to be fired again; %d were "
                           "in the load",
                           lost, loss->piece, again, there);
    }
    return KS_OK;
}

/* "mug x 2 on 3" of what did not go in (sign -1) or went in besides (1). */
static void read_correction(const reading *r, const char *text, int sign, ks_correction *out)
{
    const ks_level *level;
    size_t length = split_level(r, text, strlen(text), &level, &out->level);
    out->piece = split_count(r, text, length, &out->copies);
    out->copies *= sign;
}

/* From here on the load is as it really was. */
static ks_status put_load_right(reading *r)
{
    ks_book_firing *entry = r->entry;
    ks_log_texts out = r->told->not_in, in = r->told->also_in;
    ks_status read = r->told->loaded ? ks_phone_text_read(r->plan, entry->load - 1, r->told->loaded,
                                                          r->arena, &out.n, &out.texts, r->err)
                                     : KS_OK;
    if (read)
        return read;
    if (out.n + in.n > 0) {
        entry->n_corrections = out.n + in.n;
        entry->corrections = KS_TAKE(r->arena, entry->n_corrections, ks_correction);
    }
    for (int i = 0; i < out.n; i++)
        read_correction(r, out.texts[i], -1, &entry->corrections[i]);
    for (int i = 0; i < in.n; i++)
        read_correction(r, in.texts[i], 1, &entry->corrections[out.n + i]);
    ks_status status = ks_load_put_right(r->plan, entry->load - 1, entry->n_corrections,
                                         entry->corrections, r->arena, &r->plan, r->err);
    r->load = &r->plan->loads[entry->load - 1];
    return status;
}

static ks_status read_lists(const reading *r)
{
    ks_book_firing *entry = r->entry;
    const ks_log_told *told = r->told;
    ks_status status = KS_OK;
    if (told->cones.n > 0) {
        entry->cones = KS_TAKE(r->arena, told->cones.n, ks_cone_seen);
        entry->n_cones = told->cones.n;
    }
    for (int i = 0; i < told->cones.n && !status; i++)
        status = read_cone(r, told->cones.texts[i], &entry->cones[i]);
    if (!status)
        status = read_losses(r, "lost", told->lost, &entry->n_losses, &entry->losses);
    if (!status)
        status = read_losses(r, "refire", told->again, &entry->n_again, &entry->again);
    if (!status)
        status = check_outcome(r);
    if (told->photos.n > 0) {
        entry->photos = KS_TAKE(r->arena, told->photos.n, ks_photo);
        entry->n_photos = told->photos.n;
    }
    for (int i = 0; i < told->photos.n; i++)
        entry->photos[i] = (ks_photo){told->photos.texts[i]};
    return status;
}

static void take_curve(const reading *r, const ks_measured *record)
{
    int n = 0;
    for (int c = 0; c < record->n_curves; c++)
        n += record->curves[c].n;
    r->entry->readings = KS_TAKE(r->arena, n, ks_logged_reading);
    r->entry->n_readings = 0;
    for (int c = 0; c < record->n_curves; c++)
        for (int i = 0; i < record->curves[c].n; i++)
            r->entry->readings[r->entry->n_readings++] = (ks_logged_reading){
                record->curves[c].name, record->curves[c].time_h[i], record->curves[c].temp_c[i]};
    for (int i = 0; i < record->n_remarks; i++)
        note(r, record->remarks[i]);
}

/* A recorder's table is read by what the model expects of it. */
static ks_status read_curve(const reading *r)
{
    ks_measured record;
    if (!r->told->curve_path)
        return KS_OK;
    ks_status status =
        ks_measured_read(r->told->curve_path, (ks_measured_hint){r->fired->hours, r->fired->top_c},
                         r->arena, &record, r->err);
    if (!status)
        take_curve(r, &record);
    return status;
}

static void compare_meter(const reading *r)
{
    double simulated = r->fired->energy.total, part = r->entry->kwh / simulated;
    if (part < LEAST_OF_MODEL || part > MOST_OF_MODEL)
        note(r, ks_arena_print(
                    r->arena,
                    "the meter says %.1f kWh, and the model of this load %.0f kWh: look at the "
                    "meter's multiplier, and whether another kiln or heater was on it",
                    r->entry->kwh, simulated));
}

static void read_words(const reading *r)
{
    if (!isnan(r->told->minutes))
        r->entry->minutes = r->told->minutes;
    if (r->told->note)
        r->entry->note = r->told->note;
    if (r->told->strike)
        r->entry->struck = r->told->strike;
}

/* Without a meter or a curve nothing is asked of the model. */
static ks_status simulate(const reading *r, ks_firing_result *out)
{
    ks_fire_options options = ks_fire_default();
    options.load = r->entry->load - 1;
    options.range = false; /* a meter is held against the middle */
    bool asked =
        r->told->curve_path || r->told->meter[0] || !isnan(r->told->kwh) || !isnan(r->entry->kwh);
    return asked ? ks_fire(r->plan, &options, r->arena, out, r->err) : KS_OK;
}

static void add_ware(const reading *r, const ks_placed *placed, const char *third, int *room)
{
    ks_book_firing *entry = r->entry;
    const ks_piece *piece = &r->plan->order->pieces[placed->piece];
    const char *owner = piece->owner ? piece->owner : "";
    for (int i = 0; i < entry->n_ware; i++)
        if (strcmp(entry->ware[i].piece, piece->id) == 0 &&
            strcmp(entry->ware[i].third, third) == 0) {
            entry->ware[i].copies++;
            return;
        }
    entry->ware = KS_GROW(r->arena, entry->ware, entry->n_ware, room, ks_ware_fired);
    entry->ware[entry->n_ware++] =
        (ks_ware_fired){piece->id, owner, ks_glaze_name(r->plan->order, piece, r->arena), third, 1};
}

/* What went in, kind by kind. */
static void list_ware(const reading *r)
{
    int room = 0;
    r->entry->n_ware = 0;
    r->entry->ware = NULL;
    for (int l = 0; l < r->load->n_levels; l++) {
        const ks_level *level = &r->load->levels[l];
        for (int p = 0; p < level->n_pieces; p++)
            if (level->pieces[p].role != KS_CONES && level->pieces[p].piece >= 0)
                add_ware(r, &level->pieces[p], third_of(r, level), &room);
    }
}

static void add_waiting(const reading *r, const char *id, int copies, const char *why)
{
    const ks_order *order = r->plan->order;
    const ks_piece *piece = NULL;
    for (int i = 0; i < order->n_pieces; i++)
        if (strcmp(order->pieces[i].id, id) == 0)
            piece = &order->pieces[i];
    if (copies < 1 || (piece && piece->locked_out)) /* told to wait: nobody owes it a turn */
        return;
    r->entry->waited[r->entry->n_waited++] =
        (ks_waited){piece && piece->owner ? piece->owner : "", id,
                    piece && piece->name ? piece->name : "", why, copies};
}

static int went_in_besides(const ks_book_firing *entry, const char *id)
{
    int copies = 0;
    for (int i = 0; i < entry->n_corrections; i++)
        if (strcmp(entry->corrections[i].piece, id) == 0)
            copies += entry->corrections[i].copies;
    return copies;
}

/* What the plan leaves out, less what went in all the same, and what did not go in after all. */
static void list_waiting(const reading *r)
{
    const ks_plan *plan = r->plan;
    ks_book_firing *entry = r->entry;
    entry->n_waited = 0;
    entry->waited = KS_TAKE(r->arena, plan->n_left_out + entry->n_corrections, ks_waited);
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        int besides = went_in_besides(entry, left->id);
        add_waiting(r, left->id, left->count - (besides > 0 ? besides : 0), ks_left_out_kind(left));
    }
    for (int i = 0; i < entry->n_corrections; i++)
        if (entry->corrections[i].copies < 0)
            add_waiting(r, entry->corrections[i].piece, -entry->corrections[i].copies, not_put_in);
}

static ks_status read_all(reading *r)
{
    ks_firing_result fired = {0};
    r->fired = &fired;
    ks_status status = put_load_right(r);
    if (!status)
        status = read_times(r);
    if (!status)
        status = simulate(r, &fired);
    if (!status)
        status = read_energy(r);
    if (!status)
        status = read_lists(r);
    if (!status)
        status = read_curve(r);
    read_words(r);
    list_ware(r);
    list_waiting(r);
    if (status || isnan(r->entry->kwh))
        return status;
    compare_meter(r);
    return ks_book_bill(r->plan, &fired, r->arena, r->entry, r->err);
}

ks_status ks_log_entry_make(const ks_plan *plan, int load, const ks_log_told *told, ks_arena *arena,
                            ks_book_firing *out, ks_log_notes *notes, ks_error *err)
{
    *out = (ks_book_firing){.plan = ks_plan_hash(plan, arena),
                            .load = load + 1,
                            .kiln = plan->loads[load].kiln_id,
                            .title = plan->order->title ? plan->order->title : "",
                            .started = "",
                            .ended = "",
                            .kwh = NAN,
                            .meter_from = NAN,
                            .meter_to = NAN,
                            .meter_unit = "kWh",
                            .minutes = NAN,
                            .currency = "",
                            .note = "",
                            .struck = ""};
    reading r = {plan, &plan->loads[load], told, arena, out, notes, err, NULL};
    return read_all(&r);
}

ks_status ks_log_entry_mend(const ks_plan *plan, const ks_log_told *told, ks_arena *arena,
                            ks_book_firing *entry, ks_log_notes *notes, ks_error *err)
{
    reading r = {plan, &plan->loads[entry->load - 1], told, arena, entry, notes, err, NULL};
    return read_all(&r);
}
