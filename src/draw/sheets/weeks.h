/* weeks.h: the studio's calendar drawn, two weeks a sheet. */
#ifndef KILNSTOW_DRAW_SHEETS_WEEKS_H
#define KILNSTOW_DRAW_SHEETS_WEEKS_H

#include "draw/sheets/sheets.h"

/* The calendar's zone can be read. */
void ks_weeks_sheets(ks_sheets *sheets, const ks_calendar *calendar);

#endif
