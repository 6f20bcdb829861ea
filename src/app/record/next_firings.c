#include "app/record/next_firings.h"

#include "app/machine/now.h"
#include "app/machine/where.h"
#include "app/record/log_run.h"
#include "app/record/waited.h"
#include "base/days/date.h"
#include "base/file.h"
#include "clock/start.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAY_S = 86400, FULL_LOADS_MOST = 12 };
#define MM3_PER_LITRE 1e6
/* Of the chamber, boxes around the ware: loads of the project's examples that left ware out, or
 * just not, hold 0.25 to 0.40 of it. */
#define USUAL_PART 0.30
#define USUAL_SIGMA 0.05
/* A load is full from here on, of what a full one holds on average. */
#define FULL_ENOUGH 0.85
#define NINE_OF_TEN 1.645 /* sigmas */

double ks_next_full_litres(const ks_next_outcome *outcome, int kiln)
{
    return outcome->fills[kiln].part * ks_chamber_litres(&outcome->order->kilns[kiln]);
}

ks_next_fullness ks_next_fullness_of(const ks_next_outcome *outcome, const ks_next_firing *firing)
{
    const ks_usual_fill *fill = &outcome->fills[firing->kiln];
    double part = firing->litres / ks_next_full_litres(outcome, firing->kiln);
    double spread = NINE_OF_TEN * fill->sigma / fill->part;
    return (ks_next_fullness){part, part / (1 + spread), part / fmax(1 - spread, 0.1)};
}

static double litres_of(const ks_piece *piece)
{
    return piece->volume_mm3 / MM3_PER_LITRE;
}

static double litres_in(const ks_plan *plan, int load, ks_arena *arena)
{
    double litres = 0;
    const int *copies = ks_load_copies(plan, load, arena);
    for (int i = 0; i < plan->order->n_pieces; i++)
        litres += copies[i] * litres_of(&plan->order->pieces[i]);
    return litres;
}

/* A load was full where its plan left ware out. */
static ks_status fill_seen(ks_book *book, const ks_book_firing *firing, ks_arena *arena,
                           double *part, ks_error *err)
{
    ks_plan *plan;
    *part = NAN;
    if (firing->n_waited == 0)
        return KS_OK;
    ks_status status = ks_book_plan_read(book, firing->plan, arena, &plan, err);
    int load = firing->load - 1;
    if (!status && plan->loads[load].kiln >= 0)
        *part = litres_in(plan, load, arena) /
                ks_chamber_litres(&plan->order->kilns[plan->loads[load].kiln]);
    return status;
}

/* The record's mean, drawn towards the usual by a prior that weighs as much as one load. */
static void settle_fill(int n, const double *parts, ks_usual_fill *out)
{
    double sum = USUAL_PART, square = 0;
    for (int i = 0; i < n; i++)
        sum += parts[i];
    double mean = sum / (n + 1);
    for (int i = 0; i < n; i++)
        square += (parts[i] - mean) * (parts[i] - mean);
    *out = (ks_usual_fill){mean, sqrt((square + USUAL_SIGMA * USUAL_SIGMA) / (n + 1)), n};
}

static ks_status learn_fill(ks_book *book, const char *kiln, ks_arena *arena, ks_usual_fill *out,
                            ks_error *err)
{
    int n_firings, n = 0;
    ks_book_firing *firings;
    double parts[FULL_LOADS_MOST], part;
    ks_status status =
        ks_book_firings(book, &(ks_book_asked){.kiln = kiln, .lists = KS_LIST_WAITED}, arena,
                        &n_firings, &firings, err);
    for (int i = status ? -1 : n_firings - 1; i >= 0 && n < FULL_LOADS_MOST && !status; i--) {
        status = fill_seen(book, &firings[i], arena, &part, err);
        if (!status && !isnan(part))
            parts[n++] = part;
    }
    settle_fill(n, parts, out);
    return status;
}

static ks_status learn_fills(ks_book *book, ks_arena *arena, ks_next_outcome *out, ks_error *err)
{
    ks_status status = KS_OK;
    out->fills = KS_TAKE(arena, out->order->n_kilns, ks_usual_fill);
    for (int k = 0; k < out->order->n_kilns && !status; k++)
        if (book)
            status = learn_fill(book, out->order->kilns[k].id, arena, &out->fills[k], err);
        else
            settle_fill(0, NULL, &out->fills[k]);
    return status;
}

/* Whether the order lets this kiln fire so. */
static bool is_offered(const ks_order *order, int kiln, int firing)
{
    for (int s = 0; s < order->n_slots; s++)
        if (order->slots[s].kiln == kiln &&
            (order->slots[s].firing < 0 || order->slots[s].firing == firing))
            return true;
    return false;
}

/* By its box alone; fit tells exactly. */
static bool goes_in(const ks_kiln *kiln, const ks_piece *piece)
{
    ks_box room = {0, 0, 0, 0};
    for (int i = 0; i < kiln->n_parts; i++) {
        ks_box box = ks_outline_box(&kiln->parts[i].outline);
        room = i == 0 || box.x1 - box.x0 > room.x1 - room.x0 ? box : room;
    }
    ks_box box = {0, 0, 0, 0};
    for (int i = 0; i < piece->n_parts; i++) {
        ks_box part = ks_outline_box(&piece->parts[i].outline);
        box = (ks_box){fmin(box.x0, part.x0), fmin(box.y0, part.y0), fmax(box.x1, part.x1),
                       fmax(box.y1, part.y1)};
    }
    double narrow = fmin(box.x1 - box.x0, box.y1 - box.y0);
    return piece->height_mm <= kiln->height_mm &&
           narrow <= fmin(room.x1 - room.x0, room.y1 - room.y0);
}

static bool takes(const ks_order *order, int kiln, int firing, const ks_piece *piece)
{
    return goes_in(&order->kilns[kiln], piece) &&
           ks_piece_suits(order, piece, &order->firings[firing], NULL);
}

static bool waits(const ks_piece *piece)
{
    return piece->role == KS_WARE && piece->count > 0 && !piece->locked_out;
}

/* Steps of filling: what is left of each piece, and for how long each kiln is spoken for. */
typedef struct {
    ks_next_outcome *out;
    ks_arena *arena;
    int *left;     /* by piece */
    int *loads_of; /* by kiln */
} filling;

static double litres_left(const filling *f, int kiln, int firing)
{
    const ks_order *order = f->out->order;
    double litres = 0;
    for (int i = 0; i < order->n_pieces; i++)
        if (f->left[i] > 0 && takes(order, kiln, firing, &order->pieces[i]))
            litres += f->left[i] * litres_of(&order->pieces[i]);
    return litres;
}

static ks_next_firing *add_firing(filling *f, int kiln, int firing, int day)
{
    ks_next_outcome *out = f->out;
    out->firings = KS_GROW(f->arena, out->firings, out->n, &out->room, ks_next_firing);
    out->firings[out->n] =
        (ks_next_firing){.kiln = kiln, .firing = firing, .day = day, .due_day = KS_NO_DAY};
    f->loads_of[kiln]++;
    return &out->firings[out->n++];
}

/* The kiln and firing that are filled best; where several would be full, the kiln with fewer loads
 * so far, and of these the larger. */
static ks_next_firing *open_load(filling *f, const ks_piece *piece)
{
    const ks_order *order = f->out->order;
    double best = -1;
    int kiln = -1, firing = -1;
    for (int k = 0; k < order->n_kilns; k++)
        for (int g = 0; g < order->n_firings; g++) {
            if (!is_offered(order, k, g) || !takes(order, k, g, piece))
                continue;
            double full = ks_next_full_litres(f->out, k);
            double part = fmin(litres_left(f, k, g) / full, 1);
            double good = (part >= FULL_ENOUGH ? 2 - f->loads_of[k] * 1e-3 : part) + full * 1e-9;
            if (good > best) {
                best = good;
                kiln = k;
                firing = g;
            }
        }
    return kiln < 0 ? NULL : add_firing(f, kiln, firing, KS_NO_DAY);
}

static void list_ware(ks_arena *arena, int *n, int *room, ks_next_ware **list, ks_next_ware ware)
{
    *list = KS_GROW(arena, *list, *n, room, ks_next_ware);
    (*list)[(*n)++] = ware;
}

/* As many as there is room for; always one in an empty kiln. A dated load fires as its first ware
 * asks. */
static void fill_load(filling *f, ks_next_firing *load, int piece)
{
    const ks_piece *of = &f->out->order->pieces[piece];
    double each = litres_of(of), room = ks_next_full_litres(f->out, load->kiln) - load->litres;
    int n = each > 0 ? (int)fmin(floor(room / each + 1e-9), f->left[piece]) : f->left[piece];
    n = n < 1 && load->n_ware == 0 ? 1 : n;
    if (n < 1)
        return;
    list_ware(f->arena, &load->n_ware, &load->room, &load->ware, (ks_next_ware){piece, n, false});
    load->litres += n * each;
    load->due_day = of->due_day < load->due_day ? of->due_day : load->due_day;
    f->left[piece] -= n;
}

static bool load_takes(const filling *f, ks_next_firing *load, int piece)
{
    const ks_order *order = f->out->order;
    if (load->firing >= 0)
        return takes(order, load->kiln, load->firing, &order->pieces[piece]);
    for (int g = 0; g < order->n_firings && load->firing < 0; g++)
        if (is_offered(order, load->kiln, g) && takes(order, load->kiln, g, &order->pieces[piece]))
            load->firing = g;
    return load->firing >= 0;
}

static void fill_with(filling *f, int piece)
{
    ks_next_outcome *out = f->out;
    for (int i = 0; i < out->n && f->left[piece] > 0; i++)
        if (load_takes(f, &out->firings[i], piece))
            fill_load(f, &out->firings[i], piece);
    while (f->left[piece] > 0) {
        ks_next_firing *load = open_load(f, &out->order->pieces[piece]);
        if (!load)
            break;
        fill_load(f, load, piece);
    }
    if (f->left[piece] > 0)
        list_ware(f->arena, &out->n_nowhere, &out->nowhere_room, &out->nowhere,
                  (ks_next_ware){piece, f->left[piece], false});
}

/* What has waited long and must go comes first, then what is due first, then what is large. */
static int by_urgency(const void *a, const void *b)
{
    const ks_piece *x = *(const ks_piece *const *)a, *y = *(const ks_piece *const *)b;
    int first_x = x->must_go || x->waited >= KS_WAITED_ENOUGH;
    int first_y = y->must_go || y->waited >= KS_WAITED_ENOUGH;
    if (first_x != first_y)
        return first_y - first_x;
    if (x->due_day != y->due_day)
        return x->due_day < y->due_day ? -1 : 1;
    if (x->volume_mm3 != y->volume_mm3)
        return x->volume_mm3 > y->volume_mm3 ? -1 : 1;
    return x < y ? -1 : x > y;
}

/* The days that the order tells, from the first asked for on. */
static void add_dated(filling *f)
{
    const ks_order *order = f->out->order;
    int64_t first = ks_local_of_utc(&f->out->zone, f->out->from_s) / DAY_S;
    for (int s = 0; s < order->n_slots; s++) {
        const ks_slot *slot = &order->slots[s];
        if (slot->day != KS_NO_DAY && slot->day >= first)
            (void)add_firing(f, slot->kiln, slot->firing, slot->day);
    }
}

static bool is_urgent(const ks_next_outcome *out, const ks_next_firing *load)
{
    for (int i = 0; i < load->n_ware; i++) {
        const ks_piece *piece = &out->order->pieces[load->ware[i].piece];
        if (piece->must_go || piece->waited >= KS_WAITED_ENOUGH)
            return true;
    }
    return false;
}

static ks_next_why why_of(const ks_next_outcome *out, const ks_next_firing *load)
{
    if (load->day != KS_NO_DAY)
        return KS_NEXT_DATED;
    if (load->litres >= FULL_ENOUGH * ks_next_full_litres(out, load->kiln))
        return KS_NEXT_FULL;
    if (is_urgent(out, load))
        return KS_NEXT_WAITED;
    return load->due_day == KS_NO_DAY ? KS_NEXT_WAITS : KS_NEXT_DUE;
}

static void fill_all(ks_next_outcome *out, ks_arena *arena)
{
    const ks_order *order = out->order;
    filling f = {out, arena, KS_TAKE(arena, order->n_pieces, int),
                 KS_TAKE(arena, order->n_kilns, int)};
    const ks_piece **urgent = KS_TAKE(arena, order->n_pieces, const ks_piece *);
    int n = 0;
    for (int i = 0; i < order->n_pieces; i++)
        if (waits(&order->pieces[i])) {
            f.left[i] = order->pieces[i].count;
            urgent[n++] = &order->pieces[i];
        }
    if (n > 1)
        qsort(urgent, (size_t)n, sizeof *urgent, by_urgency);
    add_dated(&f);
    for (int i = 0; i < n; i++)
        fill_with(&f, (int)(urgent[i] - order->pieces));
    for (int i = 0; i < out->n; i++)
        out->firings[i].why = why_of(out, &out->firings[i]);
}

static ks_status read_from(const ks_next_job *job, ks_next_outcome *out, ks_error *err)
{
    int day;
    const char *fault = job->from ? ks_date_parse(job->from, &day) : NULL;
    if (fault)
        return ks_fail(err, KS_BAD_USAGE, "--from: found \"%s\"; %s", job->from, fault);
    out->zone = ks_studio_zone(out->order);
    out->people = (ks_people){&out->zone, out->order->n_open, out->order->open};
    out->from_s = job->from ? ks_utc_of_local(&out->zone, (int64_t)day * DAY_S) : ks_now();
    return KS_OK;
}

/* Without a record all kilns are cold; one that is named must be there. */
static ks_status open_book(const ks_next_job *job, ks_book **book, ks_error *err)
{
    const char *path = ks_book_path(job->book_path);
    *book = NULL;
    if (!job->book_path && ks_path_is_free(path))
        return KS_OK;
    return ks_book_open(path, KS_BOOK_LOOK, book, err);
}

static ks_status ask_book(ks_book *book, ks_arena *arena, ks_next_outcome *out, ks_error *err)
{
    out->has_book = book != NULL;
    ks_status status = learn_fills(book, arena, out, err);
    return status || !book ? status : ks_next_cooling(book, out, arena, err);
}

ks_status ks_next_run(const ks_next_job *job, ks_arena *arena, ks_next_outcome *out, ks_error *err)
{
    ks_book *book = NULL;
    const char *kilns = job->kiln_folder ? job->kiln_folder : ks_where_kilns(arena);
    *out = (ks_next_outcome){0};
    ks_status status = ks_order_read(job->order_path, kilns, arena, &out->order, err);
    if (!status)
        status = read_from(job, out, err);
    if (!status)
        status = open_book(job, &book, err);
    if (!status && book)
        status = ks_waited_tell(ks_book_path(job->book_path), out->order, arena, err);
    if (!status)
        status = ask_book(book, arena, out, err);
    ks_book_close(book);
    if (status)
        return status;
    fill_all(out, arena);
    return ks_next_dates(out, arena, err);
}
