#include "web/drag_child.h"

#include "app/child.h"
#include "app/machine/keep_to.h"
#include "base/data/fields.h"
#include "base/data/json_out.h"
#include "kilnstow/check.h"
#include "studio/files/plan_file.h"
#include "studio/level_name.h"
#include "web/folder.h"
#include "web/moved.h"
#include "web/program.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NEAREST_MOST = 8 };

/* What is asked, as its keys have it. */
typedef struct {
    const char *plan, *id, *level;
    int load, copy;
    double x, y, turn;
    bool keep;
} drag_wish;

static ks_status read_wish(const ks_json *top, ks_arena *arena, drag_wish *out, ks_error *err)
{
    static const ks_field fields[] = {
        KS_FIELD(NAME, drag_wish, plan, "plan", .required = true),
        KS_FIELD(NAME, drag_wish, id, "id", .required = true),
        KS_FIELD(WHOLE, drag_wish, copy, "copy", .least = 0, .most = 1e6),
        KS_FIELD(WHOLE, drag_wish, load, "load", .least = 1, .most = 1e6),
        KS_FIELD(TEXT, drag_wish, level, "level"),
        KS_FIELD(NUMBER, drag_wish, x, "x", .least = -1e4, .most = 1e4),
        KS_FIELD(NUMBER, drag_wish, y, "y", .least = -1e4, .most = 1e4),
        KS_FIELD(NUMBER, drag_wish, turn, "turn", .least = -3600, .most = 3600),
        KS_FIELD(BOOL, drag_wish, keep, "keep"),
        KS_FIELD_KNOWN("files"),
    };
    const ks_field_reader reader = {.arena = arena, .err = err};
    *out = (drag_wish){.load = 1, .copy = 1, .x = NAN, .y = NAN, .turn = NAN};
    return KS_FIELDS_READ(top, fields, &reader, out);
}

/* The plan that was read last, while its file is as it was: a hand asks of it many times. */
typedef struct {
    ks_arena arena; /* of all below */
    const char *name, *etag;
    ks_plan *plan; /* NULL = none */
} plan_in_hand;

static ks_status take_in_hand(const char *name, const char *etag, plan_in_hand *hand, ks_error *err)
{
    ks_arena_finish(&hand->arena);
    *hand = (plan_in_hand){0};
    ks_status status = ks_plan_read(name, &hand->arena, &hand->plan, err);
    hand->name = ks_arena_text(&hand->arena, name);
    hand->etag = ks_arena_text(&hand->arena, etag);
    if (status)
        hand->plan = NULL;
    return status;
}

static void *copy_of(const void *from, int n, size_t size, ks_arena *arena)
{
    void *copy = ks_arena_take(arena, (size_t)n, size);
    return n > 0 ? memcpy(copy, from, (size_t)n * size) : copy;
}

/* A plan whose loads, levels, pieces and steps may be changed without touching the one in hand. */
static ks_plan *copied(const ks_plan *plan, ks_arena *arena)
{
    ks_plan *copy = copy_of(plan, 1, sizeof(ks_plan), arena);
    copy->loads = copy_of(plan->loads, plan->n_loads, sizeof(ks_load), arena);
    for (int i = 0; i < plan->n_loads; i++) {
        ks_load *load = &copy->loads[i];
        load->steps = copy_of(load->steps, load->n_steps, sizeof(ks_step), arena);
        load->levels = copy_of(load->levels, load->n_levels, sizeof(ks_level), arena);
        for (int l = 0; l < load->n_levels; l++) {
            ks_level *level = &load->levels[l];
            level->pieces = copy_of(level->pieces, level->n_pieces, sizeof(ks_placed), arena);
        }
    }
    return copy;
}

static ks_status read_from_folder(const char *name, plan_in_hand *hand, ks_arena *arena,
                                  ks_plan **out, ks_error *err)
{
    struct stat about;
    ks_status status = KS_OK;
    bool there = stat(name, &about) == 0;
    const char *etag = there ? ks_etag_of(&about, arena) : "";
    if (!there || !hand->plan || strcmp(hand->name, name) != 0 || strcmp(hand->etag, etag) != 0)
        status = take_in_hand(name, etag, hand, err);
    if (!status)
        *out = copied(hand->plan, arena);
    return status;
}

/* The plan as sent, or else as it stands in the folder. */
static ks_status read_plan(const drag_wish *wish, const ks_asked *sent, plan_in_hand *hand,
                           ks_arena *arena, ks_plan **out, ks_error *err)
{
    for (int i = 0; i < sent->n_files; i++)
        if (strcmp(sent->files[i].name, wish->plan) == 0)
            return ks_plan_parse(wish->plan, sent->files[i].text, strlen(sent->files[i].text),
                                 arena, out, err);
    return read_from_folder(wish->plan, hand, arena, out, err);
}

typedef struct {
    ks_load *load;
    int number, level, item, to_level;
    ks_stand stand;
} drag_place;

static ks_status find_level(const drag_wish *wish, ks_arena *arena, drag_place *at, ks_error *err)
{
    const char **names = ks_level_names(at->load, arena);
    at->to_level = at->level;
    for (int l = 0; wish->level && l < at->load->n_levels; l++)
        if (strcmp(names[l], wish->level) == 0) {
            at->to_level = l;
            return KS_OK;
        }
    return wish->level ? ks_fail(err, KS_BAD_INPUT, "level: found \"%s\"; this load has no such",
                                 wish->level)
                       : KS_OK;
}

static ks_status find_place(const drag_wish *wish, const ks_plan *plan, ks_arena *arena,
                            drag_place *at, ks_error *err)
{
    *at = (drag_place){.number = wish->load - 1, .level = -1};
    if (wish->load > plan->n_loads)
        return ks_fail(err, KS_BAD_INPUT, "load: found %d; the plan has %d", wish->load,
                       plan->n_loads);
    at->load = &plan->loads[at->number];
    for (int l = 0; l < at->load->n_levels; l++)
        for (int k = 0; k < at->load->levels[l].n_pieces; k++) {
            const ks_placed *placed = &at->load->levels[l].pieces[k];
            if (placed->copy != wish->copy || strcmp(placed->id, wish->id) != 0)
                continue;
            at->level = l;
            at->item = k;
            at->stand = placed->stand;
        }
    if (at->level < 0)
        return ks_fail(err, KS_BAD_INPUT,
                       "id: found \"%s\" number %d; it stands nowhere in this "
                       "load",
                       wish->id, wish->copy);
    at->stand.x = isnan(wish->x) ? at->stand.x : wish->x;
    at->stand.y = isnan(wish->y) ? at->stand.y : wish->y;
    at->stand.turn_deg = isnan(wish->turn) ? at->stand.turn_deg : wish->turn;
    return find_level(wish, arena, at, err);
}

/* What is near under each of the rules that ask for a distance, and how much they ask for. */
typedef struct {
    const char *rule, *what;
    size_t asks; /* offset in ks_clearance */
} distance_rule;

static const distance_rule distances[] = {
    {"ware", "piece", offsetof(ks_clearance, ware)},
    {"setters", "piece", offsetof(ks_clearance, setter)},
    {"under", "piece", offsetof(ks_clearance, under)},
    {"wall", "wall", offsetof(ks_clearance, wall)},
    {"lid", "lid", offsetof(ks_clearance, lid)},
    {"above", "shelf", offsetof(ks_clearance, above)},
    {"near posts", "post", offsetof(ks_clearance, post)},
    {"support", "shelf edge", offsetof(ks_clearance, shelf_edge)},
};

static const ks_keep_out *find_keep_out(const ks_load *load, const ks_nearby *nearby)
{
    for (int i = 0; i < load->n_keep_outs && strcmp(nearby->rule, "keep-outs") == 0; i++)
        if (nearby->near && strcmp(load->keep_outs[i].kind, nearby->near) == 0)
            return &load->keep_outs[i];
    return NULL;
}

static const distance_rule *distance_of(const ks_nearby *nearby)
{
    for (size_t i = 0; i < sizeof distances / sizeof *distances; i++)
        if (strcmp(distances[i].rule, nearby->rule) == 0)
            return &distances[i];
    return NULL;
}

static const ks_placed *find_piece(const ks_load *load, const char *id, int copy)
{
    for (int l = 0; l < load->n_levels; l++)
        for (int k = 0; k < load->levels[l].n_pieces; k++) {
            const ks_placed *placed = &load->levels[l].pieces[k];
            if (placed->copy == copy && strcmp(placed->id, id) == 0)
                return placed;
        }
    return NULL;
}

/* As the rule "ware" has it: unglazed ware may touch, and a piece may ask for more of its own. */
static double asked_mm(const ks_load *load, const ks_nearby *nearby, const distance_rule *rule)
{
    double asked = *(const double *)((const char *)&load->clearance + rule->asks);
    const ks_placed *a = find_piece(load, nearby->id, nearby->copy);
    const ks_placed *b = nearby->near ? find_piece(load, nearby->near, nearby->near_copy) : NULL;
    if (!a || !b || strcmp(rule->rule, "under") == 0)
        return asked;
    if (strcmp(rule->rule, "ware") == 0 && !a->glazed && !b->glazed)
        asked = 0;
    return fmax(asked, fmax(a->around_mm, b->around_mm));
}

/* A distance: how far apart the two are, and how far they are to be. */
static void add_distance(ks_json_out *out, double asked, double spare)
{
    ks_out_number(out, "clear_mm", asked + spare);
    ks_out_number(out, "asked_mm", asked);
    ks_out_number(out, "short_by_mm", -spare);
}

static void add_nearby(ks_json_out *out, const ks_load *load, const ks_nearby *nearby)
{
    const distance_rule *rule = distance_of(nearby);
    const ks_keep_out *kept_out = find_keep_out(load, nearby);
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "what", rule ? rule->what : kept_out ? kept_out->kind : nearby->rule);
    ks_out_text(out, "rule", nearby->rule);
    ks_out_text(out, "id", nearby->near);
    ks_out_whole(out, "copy", nearby->near_copy);
    ks_out_number(out, "short_by", -nearby->spare);
    ks_out_text(out, "unit", nearby->unit);
    if (rule || kept_out)
        add_distance(out, rule ? asked_mm(load, nearby, rule) : kept_out->clearance_mm,
                     nearby->spare);
    ks_out_end(out);
}

static int by_spare(const void *a, const void *b)
{
    const ks_nearby *one = a, *other = b;
    return (one->spare > other->spare) - (one->spare < other->spare);
}

static bool is_same_place(const ks_nearby *a, const ks_nearby *b)
{
    return strcmp(a->rule, b->rule) == 0 && a->near_copy == b->near_copy &&
           strcmp(a->near ? a->near : "", b->near ? b->near : "") == 0;
}

/* Of each thing that is near only what is tightest is told, what is least to spare first. */
static int thin_out(ks_nearby *all, int n)
{
    int kept = 0;
    if (n > 1)
        qsort(all, (size_t)n, sizeof *all, by_spare);
    for (int i = 0; i < n; i++) {
        bool told = false;
        for (int k = 0; k < kept && !told; k++)
            told = is_same_place(&all[k], &all[i]);
        if (!told)
            all[kept++] = all[i];
    }
    return kept;
}

/* `which`: -1 what breaks a distance, 0 what breaks another rule, 1 the nearest of the rest. */
static bool is_which(const ks_load *load, const ks_nearby *nearby, int which)
{
    bool broken = nearby->spare < -KS_GRID - 1e-9,
         distance = distance_of(nearby) || find_keep_out(load, nearby);
    return which < 0 ? broken && distance : which == 0 ? broken && !distance : !broken && distance;
}

static int add_list(ks_json_out *out, const char *key, const ks_load *load, int n,
                    const ks_nearby *all, int which)
{
    int told = 0;
    ks_out_array(out, key);
    for (int i = 0; i < n; i++)
        if (is_which(load, &all[i], which) && (which < 1 || told < NEAREST_MOST)) {
            add_nearby(out, load, &all[i]);
            told++;
        }
    ks_out_end(out);
    return told;
}

static const char *answer(const drag_wish *wish, const ks_plan *plan, const drag_place *at,
                          ks_arena *arena)
{
    const ks_placed *const *moved;
    ks_nearby *all;
    int n = ks_moved(at->load, plan->order, at->level, at->item, at->to_level, at->stand, arena,
                     &moved);
    int near = ks_check_nearby(plan, at->number, n, moved, arena, &all);
    near = thin_out(all, near);
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    int touching = add_list(&out, "touches", at->load, near, all, -1);
    int broken = add_list(&out, "broken", at->load, near, all, 0);
    (void)add_list(&out, "nearest", at->load, near, all, 1);
    ks_out_bool(&out, "free", touching + broken == 0);
    ks_out_number(&out, "x", moved[0]->stand.x);
    ks_out_number(&out, "y", moved[0]->stand.y);
    ks_out_number(&out, "turn", moved[0]->stand.turn_deg);
    ks_parts_write(&out, "parts", moved[0]->n_parts, moved[0]->parts);
    if (wish->keep)
        ks_out_json(&out, "plan", ks_plan_json(plan, arena));
    ks_out_end(&out);
    return ks_out_done(&out);
}

static ks_status judge(ks_bytes body, plan_in_hand *hand, ks_arena *arena, const char **out,
                       ks_error *err)
{
    ks_asked sent = {0};
    const ks_json *top;
    ks_plan *plan = NULL;
    drag_wish wish;
    drag_place at;
    ks_status status = ks_asked_tree(body, arena, &top, err);
    if (!status)
        status = read_wish(top, arena, &wish, err);
    if (!status)
        status = ks_asked_files(ks_json_get(top, "files"), arena, &sent, err);
    if (!status)
        status = read_plan(&wish, &sent, hand, arena, &plan, err);
    if (!status)
        status = find_place(&wish, plan, arena, &at, err);
    if (!status)
        *out = answer(&wish, plan, &at, arena);
    return status;
}

/* False when nobody listens any more. */
static bool say_of(int up, ks_bytes body, plan_in_hand *hand)
{
    ks_arena arena = {0};
    ks_error err = {0};
    const char *text = err.text;
    ks_program_seconds(KS_DRAG_SECONDS);
    ks_status status = judge(body, hand, &arena, &text, &err);
    bool heard = ks_child_say(up, status ? KS_DRAG_REFUSED : KS_DRAG_ANSWER, (ks_saying){0},
                              (ks_saying){text, strlen(text)});
    ks_arena_finish(&arena);
    return heard;
}

void ks_drag_in_child(int up, void *payload)
{
    const ks_drag_work *work = payload;
    plan_in_hand hand = {0};
    ks_child asks = {.from = STDIN_FILENO};
    ks_message asked;
    ks_heard heard;
    if (!ks_program_stands_in(work->folder) ||
        (work->asks >= 0 && dup2(work->asks, STDIN_FILENO) < 0))
        return;
    ks_program_limit(up, KS_DRAG_SECONDS);
    ks_keep_to(work->folder, NULL);
    if (work->asks < 0)
        (void)say_of(up, work->body, &hand);
    while (work->asks >= 0 && (heard = ks_child_hear(&asks, INFINITY, &asked)) != KS_HEARD_END)
        if (heard == KS_HEARD_MESSAGE && !say_of(up, (ks_bytes){asked.bytes, asked.length}, &hand))
            break;
    free(asks.bytes);
    ks_arena_finish(&hand.arena);
}
