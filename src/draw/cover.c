#include "draw/flow.h"

#include <math.h>
#include <string.h>

#define THIN_ROW 5.4

static const char *end_words(const ks_facts *facts, ks_arena *arena)
{
    const ks_firing *firing = &facts->load->firing;
    if (firing->cone && *firing->cone)
        return ks_arena_print(arena, "cone %s", firing->cone);
    return ks_say_temp(facts->display, firing->top_temp_c, arena);
}

static double mass_of(const ks_facts *facts)
{
    double mass_kg = 0;
    for (int i = 0; i < facts->n_items; i++)
        mass_kg += facts->items[i].piece ? facts->items[i].piece->mass_kg : 0;
    return mass_kg;
}

static const char *waiting_words(const ks_plan *plan, ks_arena *arena)
{
    int n = 0;
    for (int i = 0; i < plan->n_left_out; i++)
        n += plan->left_out[i].count;
    return n == 0 ? "none" : ks_say_count(n, "piece", "pieces", arena);
}

static const char *gap_words(const ks_plan *plan, ks_arena *arena)
{
    double gap = ks_plan_gap(plan);
    if (gap <= 0)
        return "nothing more could go in: proven";
    if (!isfinite(gap))
        return "not known";
    return ks_arena_print(arena, "at most %.1f %% more could go in (at most %s)", 100 * gap,
                          ks_say_worth(plan, plan->bound, arena));
}

/* "14.2 lb (6.4 kg)" without what is in brackets. */
static const char *one_unit(const char *text, ks_arena *arena)
{
    return ks_arena_text_n(arena, text, strcspn(text, "("));
}

static void big_figure(ks_scene *scene, double x, const char *figure, const char *words)
{
    ks_scene_sized(scene, KS_LOOK_STRONG, (ks_point){x, KS_SHEET_TOP + 8}, KS_TITLE, figure, 41);
    ks_scene_fitted(scene, KS_LOOK_FAINT, (ks_point){x, KS_SHEET_TOP + 13.5}, KS_LEFT, KS_SMALL,
                    words, 41);
}

static void figures(ks_flow *flow)
{
    const ks_facts *facts = flow->facts;
    ks_arena *arena = flow->sheets->arena;
    double mass_kg = mass_of(facts);
    big_figure(flow->scene, KS_SHEET_LEFT, ks_arena_print(arena, "%d", facts->n_ware),
               "pieces go in");
    big_figure(flow->scene, 47, ks_arena_print(arena, "%d", facts->n_levels),
               facts->n_levels == 1 ? "level" : "levels");
    big_figure(flow->scene, 90, end_words(facts, arena),
               facts->load->firing.atmosphere && *facts->load->firing.atmosphere
                   ? facts->load->firing.atmosphere
                   : "firing");
    big_figure(flow->scene, 133,
               mass_kg > 0 ? one_unit(ks_say_mass(facts->display, mass_kg, arena), arena) : "–",
               "of ware and setters");
    flow->y = KS_SHEET_TOP + 16;
}

static void summary(ks_flow *flow)
{
    static const ks_column columns[] = {{"", 4, 38}, {"", 43, 133}};
    const ks_facts *facts = flow->facts;
    const ks_plan *plan = facts->plan;
    ks_arena *arena = flow->sheets->arena;
    const char *all =
        plan->n_loads > 1 ? ks_arena_print(arena, " (all %d loads)", plan->n_loads) : "";
    const char *rows[][2] = {
        {"Kiln", facts->kiln},
        {"Inside height", ks_say_both(facts->display, facts->load->height_mm, arena)},
        {"Worth placed",
         ks_arena_print(arena, "%s%s", ks_say_worth(plan, plan->worth, arena), all)},
        {"Room for more", gap_words(plan, arena)},
        {"Still waiting", waiting_words(plan, arena)},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        ks_flow_row(flow, columns, 2, rows[i], THIN_ROW);
}

typedef struct {
    double height_mm;
    int count;
} post_count;

/* Posts by height, tallest first. */
static int posts_counted(const ks_load *load, post_count *counts, int room)
{
    int n = 0;
    for (int i = 0; i < load->n_posts; i++)
        for (int k = 0; k < load->posts[i].n_heights && k < 2; k++) {
            double height_mm = load->posts[i].heights_mm[k];
            int at = 0;
            while (at < n && counts[at].height_mm > height_mm + 0.5)
                at++;
            if (at < n && fabs(counts[at].height_mm - height_mm) <= 0.5) {
                counts[at].count++;
                continue;
            }
            if (n == room)
                continue;
            memmove(counts + at + 1, counts + at, (size_t)(n - at) * sizeof *counts);
            counts[at] = (post_count){height_mm, 1};
            n++;
        }
    return n;
}

static void shelves_row(ks_flow *flow, const ks_column *columns)
{
    const ks_load *load = flow->facts->load;
    ks_arena *arena = flow->sheets->arena;
    for (int i = 0; i < load->n_levels; i++)
        for (int k = 0; k < load->levels[i].n_shelves; k++) {
            const ks_shelf *shelf = &load->levels[i].shelves[k];
            int count = 0;
            bool told = false;
            for (int a = 0; a < load->n_levels; a++)
                for (int b = 0; b < load->levels[a].n_shelves; b++)
                    if (strcmp(load->levels[a].shelves[b].id, shelf->id) == 0) {
                        told |= count == 0 && (a < i || (a == i && b < k));
                        count++;
                    }
            if (told)
                continue;
            const char *cells[] = {
                ks_arena_print(arena, "%d ×", count),
                ks_arena_print(arena, "shelf %s, %s thick", shelf->id,
                               ks_say_both(flow->facts->display, shelf->thickness_mm, arena)),
                ""};
            ks_flow_row(flow, columns, 3, cells, THIN_ROW);
        }
}

static void furniture(ks_flow *flow)
{
    static const ks_column columns[] = {{"", 12, 14}, {"", 27, 100}, {"", 130, 40}};
    enum { KINDS = 64 };
    post_count counts[KINDS];
    ks_arena *arena = flow->sheets->arena;
    int n = posts_counted(flow->facts->load, counts, KINDS);
    ks_flow_title(flow, "Take out of the store", 2 * THIN_ROW);
    double first = flow->y;
    ks_scene *scene = flow->scene;
    shelves_row(flow, columns);
    for (int i = 0; i < n; i++) {
        const char *cells[] = {
            ks_arena_print(arena, "%d ×", counts[i].count),
            ks_arena_print(arena, "post %s",
                           ks_say_both(flow->facts->display, counts[i].height_mm, arena)),
            ""};
        ks_flow_row(flow, columns, 3, cells, THIN_ROW);
    }
    for (double y = first; scene == flow->scene && y + THIN_ROW <= flow->y + 0.01; y += THIN_ROW)
        ks_scene_box(scene, KS_LOOK_TICK, (ks_box){5, y + 0.9, 8.6, y + 4.5});
}

static void swatch(ks_scene *scene, ks_box box, const ks_owner *owner)
{
    ks_path path = {0};
    ks_point at[4] = {{box.x0, box.y0}, {box.x1, box.y0}, {box.x1, box.y1}, {box.x0, box.y1}};
    ks_path_move(scene->arena, &path, at[0]);
    for (int i = 1; i < 4; i++)
        ks_path_line(scene->arena, &path, at[i]);
    ks_path_close(scene->arena, &path);
    ks_scene_filled(scene, KS_LOOK_TICK, path, owner->fill);
    ks_hatch(scene, &(ks_polygon){4, at}, owner->hatch);
}

static void owners(ks_flow *flow)
{
    const ks_facts *facts = flow->facts;
    if (facts->n_owners < 2)
        return;
    ks_flow_title(flow, "Whose pieces", THIN_ROW);
    int column = 0;
    for (int i = 0; i < facts->n_owners; i++) {
        const ks_owner *owner = &facts->owners[i];
        if (owner->pieces == 0)
            continue;
        if (column == 0)
            ks_flow_need(flow, 6.5);
        double x = KS_SHEET_LEFT + 58 * column, y = flow->y;
        swatch(flow->scene, (ks_box){x + 1, y + 1, x + 9, y + 5.6}, owner);
        ks_scene_words(flow->scene, KS_LOOK_STRONG, (ks_point){x + 11, y + 4.6}, KS_LEFT, KS_SMALL,
                       owner->letter);
        ks_scene_fitted(flow->scene, KS_LOOK_TEXT, (ks_point){x + 17.5, y + 4.6}, KS_LEFT, KS_SMALL,
                        ks_arena_print(flow->sheets->arena, "%s: %d", owner->words, owner->pieces),
                        38);
        column = (column + 1) % 3;
        if (column == 0)
            flow->y += 6.5;
    }
    if (column > 0)
        flow->y += 6.5;
}

static const char *left_out_name(const ks_plan *plan, const ks_left_out *left)
{
    bool known = left->piece >= 0 && left->piece < plan->order->n_pieces;
    const char *name = known ? plan->order->pieces[left->piece].name : NULL;
    return name && *name ? name : left->id;
}

static void waiting(ks_flow *flow)
{
    static const ks_column columns[] = {{"", 4, 12},
                                        {"Piece", 17, 48},
                                        {"Why it waits", 67, 52},
                                        {"What would let it in", 121, 55}};
    const ks_plan *plan = flow->facts->plan;
    bool first = flow->facts->index == 0 || flow->sheets->options->load >= 0;
    if (plan->n_left_out == 0 || !first) /* once is enough for a plan of several loads */
        return;
    ks_flow_title(flow, "What waits, and why", 3 * KS_ROW);
    flow->y = ks_columns_headed(flow->scene, columns, 4, flow->y + 3);
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        const char *cells[] = {ks_arena_print(flow->sheets->arena, "%d ×", left->count),
                               left_out_name(plan, left),
                               ks_say_joined(flow->sheets->arena, ", ", left->why, left->detail),
                               left->nearest ? left->nearest : ""};
        ks_flow_row(flow, columns, 4, cells, KS_ROW);
    }
}

static void caution(ks_flow *flow, int *n, const char *words)
{
    if ((*n)++ == 0)
        ks_flow_title(flow, "Take care", 5);
    ks_flow_need(flow, 5);
    ks_scene_words(flow->scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, flow->y + 3.4}, KS_LEFT,
                   KS_SMALL, "!");
    ks_flow_words(flow, KS_LOOK_TEXT, 4, words);
}

static const char *marks_where(const ks_facts *facts, bool (*holds)(const ks_item *),
                               ks_arena *arena)
{
    const char *marks = "";
    for (int i = 0; i < facts->n_items; i++)
        if (holds(&facts->items[i]))
            marks = ks_say_joined(arena, ", ", marks, facts->items[i].mark);
    return marks;
}

static bool is_heavy(const ks_item *item)
{
    return item->piece && item->piece->mass_kg >= 10;
}

static bool is_runny(const ks_item *item)
{
    return item->piece && item->piece->runny;
}

static bool is_on_setter(const ks_item *item)
{
    return item->piece && item->piece->has_setter;
}

/* What the order left out and the program assumed, with how many pieces each concerns: "mass
 * (39 pieces), profile (12 pieces)". */
static const char *assumed_words(const ks_facts *facts, ks_arena *arena)
{
    enum { MOST = 16 };
    const char *names[MOST];
    int counts[MOST] = {0}, n = 0;
    for (int i = 0; i < facts->n_items; i++) {
        const ks_piece *piece = facts->items[i].piece;
        for (const char *at = piece && piece->defaults ? piece->defaults : ""; *at;) {
            size_t length = strcspn(at, ",");
            int k = 0;
            while (k < n && !(strlen(names[k]) == length && strncmp(names[k], at, length) == 0))
                k++;
            if (k == n && n < MOST)
                names[n++] = ks_arena_text_n(arena, at, length);
            if (k < n)
                counts[k]++;
            at += length + strspn(at + length, ", ");
        }
    }
    const char *words = "";
    for (int k = 0; k < n; k++)
        words = ks_say_joined(arena, ", ", words,
                              ks_arena_print(arena, "%s (%s)", names[k],
                                             ks_say_count(counts[k], "piece", "pieces", arena)));
    return words;
}

/* A reader's warning without the file, line and field that it begins with, as a sentence. */
static const char *without_place(const char *warning, ks_arena *arena)
{
    const char *field = strstr(warning, ": ");
    const char *words = field ? strstr(field + 2, ": ") : NULL;
    char *sentence = ks_arena_print(arena, "%s.", words ? words + 2 : warning);
    if (*sentence >= 'a' && *sentence <= 'z')
        *sentence = (char)(*sentence - 'a' + 'A');
    return sentence;
}

static void cautions(ks_flow *flow)
{
    static const struct {
        bool (*holds)(const ks_item *);
        const char *words;
    } kinds[] = {{is_heavy, "Two people, or one with care, for what weighs 10 kg or more"},
                 {is_on_setter, "On setters, to be bedded first (they have sheets of their own)"},
                 {is_runny, "Runny glaze: keep the space around"}};
    const ks_order *order = flow->facts->plan->order;
    ks_arena *arena = flow->sheets->arena;
    int n = 0;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        const char *marks = marks_where(flow->facts, kinds[i].holds, arena);
        if (*marks)
            caution(flow, &n, ks_arena_print(arena, "%s: %s.", kinds[i].words, marks));
    }
    const char *assumed = assumed_words(flow->facts, arena);
    if (*assumed)
        caution(flow, &n,
                ks_arena_print(arena, "Assumed, as the order does not tell it: %s.", assumed));
    for (int i = 0; i < order->n_warnings; i++)
        caution(flow, &n, without_place(order->warnings[i], arena));
}

static void hash_told(ks_flow *flow)
{
    ks_flow_title(flow, "Same plan?", 10);
    ks_flow_words(flow, KS_LOOK_TEXT, 0,
                  "Two people hold the same plan when these 64 signs agree; the first eight stand "
                  "on every sheet.");
    ks_flow_words(flow, KS_LOOK_STRONG, 0, flow->sheets->hash);
}

void ks_cover_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    const char *title = facts->plan->order->title;
    const char *below =
        ks_say_joined(sheets->arena, " · ", ks_say_day(facts->load->day, sheets->arena),
                      ks_arena_print(sheets->arena, "load %d of %d · %s", facts->index + 1,
                                     facts->plan->n_loads, facts->kiln));
    ks_flow flow =
        ks_flow_begin(sheets, facts,
                      (ks_heading){"cover", title && *title ? title : "Kiln load", below, "Cover"});
    figures(&flow);
    summary(&flow);
    furniture(&flow);
    owners(&flow);
    cautions(&flow);
    waiting(&flow);
    hash_told(&flow);
}
