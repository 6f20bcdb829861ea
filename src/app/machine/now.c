#include "app/machine/now.h"

#include <stdlib.h>
#include <time.h>

int64_t ks_now_told(void)
{
    const char *text = getenv("SOURCE_DATE_EPOCH");
    long long seconds = text ? strtoll(text, NULL, 10) : 0;
    return seconds > 0 ? seconds : 0;
}

int64_t ks_today(void)
{
    const int64_t day_s = 86400;
    int64_t told_s = ks_now_told(), now_s = (int64_t)time(NULL);
    return told_s > 0 ? told_s : now_s - now_s % day_s;
}

int64_t ks_now(void)
{
    int64_t told_s = ks_now_told();
    return told_s > 0 ? told_s : (int64_t)time(NULL);
}
