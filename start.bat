@echo off
rem Double-click on Windows: set Noonwater up and open the desk.
cd /d "%~dp0"
where py >nul 2>nul
if %errorlevel%==0 (
  py -3 start.py serve %*
  goto done
)
where python >nul 2>nul
if %errorlevel%==0 (
  python start.py serve %*
  goto done
)
echo Noonwater needs Python 3.11 or newer, and none was found. Install it from python.org.
pause
exit /b 2
:done
set code=%errorlevel%
if not %code%==0 pause
exit /b %code%
