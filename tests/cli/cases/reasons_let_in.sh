# One malt that is not named for it would do.
wortfit solve weissbier --colour '30 SRM' --on 2026-11-25 >out
code=$?
sed '/^The nearest/q' out
exit $code
