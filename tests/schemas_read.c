/* schemas_read.c: reads each file named on standard input as the kind its "format" says, and prints
 * one line for each: the status, and the message. What schemas.py holds the schemas against. */
#include "base/data/json.h"
#include "kilnstow/materials.h"
#include "kilnstow/plan.h"

#include <stdio.h>
#include <string.h>

static ks_status read_as_told(const char *path, ks_arena *arena, ks_error *err)
{
    const ks_json *file;
    ks_status status = ks_json_read(path, arena, &file, err);
    if (status != KS_OK)
        return status;
    const ks_json *format = ks_json_get(file, "format");
    const char *told = format && format->kind == KS_JSON_TEXT ? format->text : "";
    ks_kiln kiln;
    ks_order *order;
    ks_plan *plan;
    ks_schedule schedule;
    ks_materials materials;
    if (strncmp(told, "kilnstow-kiln/", 14) == 0)
        return ks_kiln_read(path, arena, &kiln, err);
    if (strncmp(told, "kilnstow-plan/", 14) == 0)
        return ks_plan_read(path, arena, &plan, err);
    if (strncmp(told, "kilnstow-schedule/", 18) == 0)
        return ks_schedule_read(path, arena, &schedule, err);
    if (strncmp(told, "kilnstow-materials/", 19) == 0)
        return ks_materials_read(path, arena, &materials, err);
    return ks_order_read(path, "kilns", arena, &order, err);
}

int main(void)
{
    char path[4096];
    while (fgets(path, sizeof path, stdin)) {
        path[strcspn(path, "\n")] = '\0';
        ks_arena arena = {0};
        ks_error err = {0};
        ks_status status = read_as_told(path, &arena, &err);
        err.text[strcspn(err.text, "\n")] = '\0';
        printf("%d %s\n", (int)status, err.text);
        fflush(stdout);
        ks_arena_finish(&arena);
    }
    return 0;
}
