#include "kilnstow/draw.h"

#include "draw/scene/canvas.h"
#include "draw/sheets/sheets.h"
#include "draw/sheets/weeks.h"

#include <string.h>

ks_draw_options ks_draw_default(void)
{
    return (ks_draw_options){.sheets = KS_SHEET_PINNED,
                             .format = KS_PDF,
                             .paper = KS_A4,
                             .dpi = 150,
                             .load = -1,
                             .date = ""};
}

static ks_status check_options(const ks_plan *plan, const ks_draw_options *options, ks_error *err)
{
    if (plan && (options->load < -1 || options->load >= plan->n_loads))
        return ks_fail(err, KS_BAD_USAGE, "load %d: the plan has loads 1 to %d", options->load + 1,
                       plan->n_loads);
    if (options->format == KS_PNG && !(options->dpi >= 50 && options->dpi <= 600))
        return ks_fail(err, KS_BAD_USAGE, "%g dpi: choose 50 to 600", options->dpi);
    if ((options->sheets & (KS_SHEET_ALL | KS_SHEET_ROOM | KS_SHEET_TEMPLATE | KS_SHEET_MORE)) ==
            0 &&
        options->n_charts + options->n_tables == 0 && !options->prices)
        return ks_fail(err, KS_BAD_USAGE, "no sheet is asked for");
    return KS_OK;
}

static void load_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    static const struct {
        ks_sheet_kind kind;
        void (*make)(ks_sheets *, const ks_facts *);
    } kinds[] = {{KS_SHEET_OVERVIEW, ks_overview_sheets},
                 {KS_SHEET_LEVELS, ks_level_sheets},
                 {KS_SHEET_SIDE, ks_side_sheets},
                 {KS_SHEET_LIST, ks_list_sheets},
                 {KS_SHEET_RECORD, ks_record_sheets},
                 {KS_SHEET_FORMS, ks_form_sheets},
                 {KS_SHEET_ROOM, ks_room_sheets},
                 {KS_SHEET_TEMPLATE, ks_template_sheets},
                 {KS_SHEET_WALL, ks_wall_sheets},
                 {KS_SHEET_MEASURE, ks_measure_sheets},
                 {KS_SHEET_MAT, ks_mat_sheets}};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++)
        if (sheets->options->sheets & kinds[i].kind)
            kinds[i].make(sheets, facts);
}

static void add_file(ks_drawing *out, const char *name, const ks_text *bytes)
{
    out->files[out->n_files++] =
        (ks_drawn){name, (const unsigned char *)ks_text_end(bytes), bytes->length};
}

static ks_status sheet_files(const ks_sheets *sheets, ks_drawing *out, ks_error *err)
{
    ks_paper paper = sheets->options->paper;
    for (int i = 0; i < sheets->n; i++) {
        ks_text bytes = {.arena = sheets->arena};
        ks_scene *scene = sheets->sheets[i].scene;
        ks_status status = KS_OK;
        if (sheets->options->format == KS_SVG)
            ks_svg(scene, paper, &bytes);
        else
            status = ks_png(scene, paper, sheets->options->dpi, &bytes, err);
        if (status != KS_OK)
            return status;
        add_file(out, sheets->n > 1 ? scene->name : "", &bytes);
    }
    return KS_OK;
}

static ks_status pdf_file(const ks_sheets *sheets, const char *title, ks_drawing *out,
                          ks_error *err)
{
    ks_text bytes = {.arena = sheets->arena};
    ks_scene **scenes = KS_TAKE(sheets->arena, sheets->n, ks_scene *);
    for (int i = 0; i < sheets->n; i++)
        scenes[i] = sheets->sheets[i].scene;
    ks_pdf_about about = {title, "kilnstow", sheets->options->created_s};
    ks_status status = ks_pdf(scenes, sheets->n, sheets->options->paper, &about, &bytes, err);
    if (status == KS_OK)
        add_file(out, "", &bytes);
    return status;
}

static void tell_missing(ks_sheets *sheets)
{
    const uint32_t *points;
    int n = ks_type_missing(sheets->type, &points);
    ks_text words = {.arena = sheets->arena};
    for (int i = 0; i < n; i++)
        ks_text_print(&words, "%sU+%04X", i ? ", " : "", (unsigned)points[i]);
    if (n > 0)
        ks_sheets_warn(
            sheets,
            ks_arena_print(sheets->arena,
                           sheets->options->font.bytes
                               ? ks_tr("letters that neither font has are shown as ?: %s")
                               : ks_tr("letters the sheets' font lacks are shown as ?: %s; "
                                       "kilnstow draw takes a font that has them by --font FILE"),
                           ks_text_end(&words)));
}

static void tell_outcome(ks_sheets *sheets, ks_drawing *out)
{
    tell_missing(sheets);
    out->n_warnings = sheets->n_warnings;
    out->warnings = sheets->warnings;
}

static void page_file(ks_sheets *sheets, ks_facts *const *facts, int n_loads, ks_drawing *out)
{
    ks_text bytes = {.arena = sheets->arena};
    ks_html(sheets, facts, n_loads, sheets->options->member, &bytes);
    out->n_sheets = 1;
    out->files = KS_TAKE(sheets->arena, 1, ks_drawn);
    add_file(out, "", &bytes);
    tell_outcome(sheets, out);
}

static ks_status write_it(ks_sheets *sheets, const char *title, ks_drawing *out, ks_error *err)
{
    out->n_sheets = sheets->n;
    out->files = KS_TAKE(sheets->arena, sheets->n + 1, ks_drawn);
    ks_status status = sheets->options->format == KS_PDF ? pdf_file(sheets, title, out, err)
                                                         : sheet_files(sheets, out, err);
    tell_outcome(sheets, out);
    return status;
}

static const char *title_of(const ks_plan *plan, ks_arena *arena)
{
    const char *title =
        plan->order->title && *plan->order->title ? plan->order->title : ks_tr("Kiln load");
    return ks_type_clean(arena, title);
}

/* A name in a file's name: letters of several loads are kept apart by "load-2-" before it. */
static void sheets_of_load(ks_sheets *sheets, const ks_facts *facts, int owner, bool many)
{
    int first = sheets->n;
    if (owner >= 0)
        ks_member_sheets(sheets, facts, owner);
    else
        load_sheets(sheets, facts);
    for (int i = first; many && i < sheets->n; i++) {
        ks_scene *scene = sheets->sheets[i].scene;
        scene->name = ks_arena_print(sheets->arena, "load-%d-%s", facts->index + 1, scene->name);
        scene->part = ks_arena_print(sheets->arena, "Load %d", facts->index + 1);
        scene->title = ks_arena_print(sheets->arena, "Load %d: %s", facts->index + 1, scene->title);
    }
}

static int owner_index(const ks_facts *facts, const char *member)
{
    for (int i = 0; i < facts->n_owners; i++)
        if (strcmp(facts->owners[i].id, member) == 0)
            return i;
    return -1;
}

static int gather_facts(ks_sheets *sheets, ks_facts **facts)
{
    const ks_draw_options *options = sheets->options;
    int n = 0;
    for (int i = 0; i < sheets->plan->n_loads; i++)
        if (options->load < 0 || options->load == i) {
            facts[n] =
                ks_facts_of(sheets->plan, i, sheets->hash, options->full_names, sheets->arena);
            facts[n++]->for_class = options->for_class;
        }
    return n;
}

static ks_status check_member(const ks_sheets *sheets, ks_facts *const *facts, int n, ks_error *err)
{
    const char *member = sheets->options->member;
    bool known = !member;
    for (int i = 0; i < n && !known; i++)
        known = owner_index(facts[i], member) >= 0;
    return known ? KS_OK
                 : ks_fail(err, KS_BAD_USAGE,
                           "member \"%s\": neither a member nor an owner of ware in this plan",
                           member);
}

static void all_made(ks_sheets *sheets, ks_facts *const *facts, int n)
{
    const ks_draw_options *options = sheets->options;
    for (int i = 0; i < n; i++) {
        int owner = options->member ? owner_index(facts[i], options->member) : -1;
        if (!options->member || owner >= 0)
            sheets_of_load(sheets, facts[i], owner, n > 1);
    }
    for (int i = 0; i < options->n_charts; i++)
        ks_chart_sheet(sheets, &options->charts[i], i + 1);
    for (int i = 0; i < options->n_tables; i++)
        ks_table_sheets(sheets, &options->tables[i], i + 1);
    if (options->prices)
        ks_price_sheets(sheets, options->prices);
    ks_sheets_finish(sheets);
}

ks_status ks_sheets_begin(ks_sheets *sheets, const ks_plan *plan, const ks_draw_options *options,
                          ks_arena *arena, ks_error *err)
{
    *sheets = (ks_sheets){.plan = plan, .options = options, .hash = "", .arena = arena};
    ks_status status = check_options(plan, options, err);
    if (status != KS_OK)
        return status;
    if (plan)
        sheets->hash = ks_plan_hash(plan, arena);
    return ks_type_create(arena, &options->font, &sheets->type, err);
}

ks_status ks_sheets_make(ks_sheets *sheets, ks_error *err)
{
    ks_facts **facts = KS_TAKE(sheets->arena, sheets->plan->n_loads, ks_facts *);
    int n = gather_facts(sheets, facts);
    ks_status status = check_member(sheets, facts, n, err);
    if (status == KS_OK)
        all_made(sheets, facts, n);
    return status;
}

static ks_status make_page(ks_sheets *sheets, ks_drawing *out, ks_error *err)
{
    ks_facts **facts = KS_TAKE(sheets->arena, sheets->plan->n_loads, ks_facts *);
    int n = gather_facts(sheets, facts);
    ks_status status = check_member(sheets, facts, n, err);
    if (status == KS_OK)
        page_file(sheets, facts, n, out);
    return status;
}

ks_status ks_draw(const ks_plan *plan, const ks_draw_options *options, ks_arena *arena,
                  ks_drawing *out, ks_error *err)
{
    *out = (ks_drawing){0};
    ks_sheets sheets;
    ks_status status = ks_sheets_begin(&sheets, plan, options, arena, err);
    if (status != KS_OK)
        return status;
    if (options->format == KS_HTML)
        status = make_page(&sheets, out, err);
    else
        status = ks_sheets_make(&sheets, err);
    if (status == KS_OK && options->format != KS_HTML)
        status = write_it(&sheets, title_of(plan, arena), out, err);
    ks_type_destroy(sheets.type);
    return status;
}

/* What is no load's sheets: one kind of them, drawn by `make`. */
typedef struct {
    const char *what, *title, *studio;
    const ks_plan *plan; /* where it is about one; NULL */
    void (*make)(ks_sheets *sheets, const void *from);
    const void *from;
} without_plan;

static ks_status draw_without_plan(const without_plan *subject, const ks_draw_options *options,
                                   ks_arena *arena, ks_drawing *out, ks_error *err)
{
    *out = (ks_drawing){0};
    if (options->format == KS_HTML)
        return ks_fail(err, KS_BAD_USAGE, "a %s is drawn as PDF, SVG or PNG", subject->what);
    ks_sheets sheets;
    ks_status status = ks_sheets_begin(&sheets, subject->plan, options, arena, err);
    if (status != KS_OK)
        return status;
    sheets.studio = subject->studio;
    subject->make(&sheets, subject->from);
    ks_sheets_finish(&sheets);
    status = write_it(&sheets, ks_type_clean(arena, subject->title), out, err);
    ks_type_destroy(sheets.type);
    return status;
}

static void make_chart(ks_sheets *sheets, const void *chart)
{
    ks_chart_sheet(sheets, chart, 1);
}

ks_status ks_draw_chart(const ks_chart *chart, const ks_draw_options *options, ks_arena *arena,
                        ks_drawing *out, ks_error *err)
{
    const without_plan subject = {"chart", chart->title, NULL, chart->plan, make_chart, chart};
    return draw_without_plan(&subject, options, arena, out, err);
}

static void make_weeks(ks_sheets *sheets, const void *calendar)
{
    ks_weeks_sheets(sheets, calendar);
}

ks_status ks_draw_calendar(const ks_calendar *calendar, const ks_draw_options *options,
                           ks_arena *arena, ks_drawing *out, ks_error *err)
{
    const without_plan subject = {"calendar", "Kilns",    calendar->studio,
                                  NULL,       make_weeks, calendar};
    return draw_without_plan(&subject, options, arena, out, err);
}
