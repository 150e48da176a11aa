# A spreadsheet of another country, from standard input.
cp examples/small-cellar.json mine.json
printf '\357\273\277ID;Have;Note\r\nsimcoe;"1 oz";"""half"" a bag; opened"\r\n;;\r\n' | wortfit stock mine.json import - --on 2026-11-25
diff examples/small-cellar.json mine.json || true
