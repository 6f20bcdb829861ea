/* The usual cautions, once for the wall beside each kiln. */
#include "draw/sheets/sheets.h"
#include "kilnstow/fire.h"

#include <string.h>

static bool is_first_of_kiln(const ks_facts *facts)
{
    for (int i = 0; i < facts->index; i++)
        if (facts->plan->loads[i].kiln == facts->load->kiln)
            return false;
    return true;
}

void ks_wall_sheets(ks_sheets *sheets, const ks_facts *facts)
{
    const double pitch = 6, apart = 3, indent = 6, width = KS_SHEET_RIGHT - KS_SHEET_LEFT - indent;
    const ks_order *order = facts->plan->order;
    int at = facts->load->kiln;
    bool all = sheets->options->load < 0;
    if (at < 0 || at >= order->n_kilns || (all && !is_first_of_kiln(facts)))
        return;
    ks_usual_cautions cautions = ks_kiln_cautions(&order->kilns[at], facts->display, sheets->arena);
    ks_scene *scene = ks_sheet_begin(
        sheets, facts,
        (ks_heading){
            "wall", ks_tr("Beside this kiln"),
            ks_tr("The usual cautions. What the maker and the local code say comes first."),
            ks_tr("Cautions")});
    double y = KS_SHEET_TOP + 8;
    for (int i = 0; i < cautions.n; i++) {
        const char *line = cautions.lines[i];
        int lines = ks_scene_lines(scene, KS_LOOK_TEXT, KS_PLAIN, width, line);
        ks_scene_words(scene, KS_LOOK_STRONG, (ks_point){KS_SHEET_LEFT, y}, KS_LEFT, KS_PLAIN, "!");
        ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){KS_SHEET_LEFT + indent, y}, KS_PLAIN, width,
                      lines, pitch, line);
        y += pitch * lines + apart;
    }
}
