#include "draw/sheets/flow.h"

#include <math.h>

#define LINE_MM 4.2

static void begin_page(ks_flow *flow)
{
    ks_heading heading = flow->heading;
    if (flow->page > 0) {
        heading.name = ks_arena_print(flow->sheets->arena, "%s-%d", heading.name, flow->page + 1);
        heading.title = ks_arena_print(flow->sheets->arena, "%s, continued", heading.title);
    }
    flow->page++;
    flow->scene = ks_sheet_begin_framed(flow->sheets, flow->facts, heading, flow->frame);
    flow->y = KS_SHEET_TOP;
}

ks_flow ks_flow_begin_framed(ks_sheets *sheets, const ks_facts *facts, ks_heading heading,
                             ks_frame frame)
{
    ks_flow flow = {.sheets = sheets, .facts = facts, .heading = heading, .frame = frame};
    begin_page(&flow);
    return flow;
}

ks_flow ks_flow_begin(ks_sheets *sheets, const ks_facts *facts, ks_heading heading)
{
    return ks_flow_begin_framed(sheets, facts, heading, KS_FRAME_BLOCK);
}

double ks_flow_bottom(const ks_flow *flow)
{
    return ks_sheet_room(flow->frame).y1;
}

void ks_flow_need(ks_flow *flow, double height_mm)
{
    if (flow->y + height_mm > ks_flow_bottom(flow) && flow->y > KS_SHEET_TOP)
        begin_page(flow);
}

void ks_flow_title(ks_flow *flow, const char *words, double below_mm)
{
    const double above = flow->y > KS_SHEET_TOP ? 4 : 0;
    ks_flow_need(flow, above + 6.5 + below_mm);
    flow->y += (flow->y > KS_SHEET_TOP ? above : 0) + 5.2;
    ks_scene_tag(flow->scene, KS_TAG_HEADING);
    ks_scene_fitted(flow->scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, flow->y}, KS_LEFT,
                    KS_PLAIN, words, KS_SHEET_RIGHT - KS_SHEET_LEFT);
    ks_scene_tag(flow->scene, KS_TAG_PARAGRAPH);
    flow->y += 1.8;
}

void ks_flow_words(ks_flow *flow, ks_look look, double indent_mm, const char *words)
{
    double width = KS_SHEET_RIGHT - KS_SHEET_LEFT - indent_mm;
    int n = ks_scene_lines(flow->scene, look, KS_SMALL, width, words);
    ks_flow_need(flow, LINE_MM * n);
    ks_scene_wrap(flow->scene, look, (ks_point){KS_SHEET_LEFT + indent_mm, flow->y + 3.4}, KS_SMALL,
                  width, n, LINE_MM, words);
    flow->y += LINE_MM * n + 0.6;
}

void ks_flow_row(ks_flow *flow, const ks_column *columns, int n, const char *const *cells,
                 double pitch_mm)
{
    int most = 1;
    for (int i = 0; i < n; i++) {
        int lines =
            ks_cell_wrapped(flow->scene, &columns[i], KS_LOOK_TEXT, flow->y, 0, cells[i], false);
        most = lines > most ? lines : most;
    }
    pitch_mm = fmax(pitch_mm, 3.9 * most + 1.2);
    ks_flow_need(flow, pitch_mm);
    for (int i = 0; i < n; i++)
        ks_cell_wrapped(flow->scene, &columns[i], KS_LOOK_TEXT, flow->y, 0, cells[i], true);
    flow->y += pitch_mm;
    ks_scene_line(flow->scene, KS_LOOK_RULE, (ks_point){KS_SHEET_LEFT, flow->y},
                  (ks_point){KS_SHEET_RIGHT, flow->y});
}
