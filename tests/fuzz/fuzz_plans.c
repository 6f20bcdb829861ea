/* fuzz_plans.c: plans of any bytes are read or refused at a place; what was read is checked without
 * failing, and written and read again as the same plan. */
#include "target.h"

#include "kilnstow/check.h"

#include <string.h>

static void check_read(const ks_plan *plan, ks_arena *arena)
{
    ks_error err = {0};
    ks_plan *copy;
    ks_check_report report;
    ks_check(plan, arena, &report);
    require(report.ok == (report.n_broken == 0) && *ks_check_words(&report, plan, arena));
    const char *text = ks_plan_json(plan, arena);
    require(ks_plan_parse("again", text, strlen(text), arena, &copy, &err) == KS_OK);
    require(strcmp(ks_plan_json(copy, arena), text) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_plan *plan;
    const char *text = ks_arena_text_n(&arena, (const char *)bytes, length);
    ks_status status = ks_plan_parse("p.json", text, length, &arena, &plan, &err);
    require_words(status, &err);
    if (status == KS_OK)
        check_read(plan, &arena);
    ks_arena_finish(&arena);
    return 0;
}
