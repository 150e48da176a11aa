/*
 * wortfit.h: the whole public interface of libwortfit. See each header for its part.
 */
#ifndef WORTFIT_WORTFIT_H
#define WORTFIT_WORTFIT_H

#define WF_VERSION "0.1.0"

#include "wortfit/brew.h"
#include "wortfit/brewday.h"
#include "wortfit/brewing.h"
#include "wortfit/check.h"
#include "wortfit/choices.h"
#include "wortfit/learn.h"
#include "wortfit/pantry.h"
#include "wortfit/plan.h"
#include "wortfit/process.h"
#include "wortfit/quantity.h"
#include "wortfit/reasons.h"
#include "wortfit/refit.h"
#include "wortfit/report.h"
#include "wortfit/revise.h"
#include "wortfit/scale.h"
#include "wortfit/solve.h"
#include "wortfit/status.h"
#include "wortfit/stock.h"
#include "wortfit/sure.h"
#include "wortfit/survey.h"
#include "wortfit/worth.h"

#endif
