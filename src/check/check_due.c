#include "check/check_judge.h"

#include "studio/late_ware.h"

/* That dated ware is in a load that opens in time, by the hours that the plan tells: a remark,
 * since no plan may be able to do better. */
void ks_check_due(ks_judge *j)
{
    ks_late_ware *late;
    int n = ks_late_ware_find(j->plan, j->arena, &late);
    for (int i = 0; i < n; i++)
        ks_remark_note(j, REMARK_DUE,
                       (ks_spot){.load = late[i].load,
                                 .level = -1,
                                 .a = ks_late_ware_words(j->plan, &late[i], j->arena)});
}
