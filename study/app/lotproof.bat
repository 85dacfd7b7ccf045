@echo off
rem Starts Lotproof as the script lotproof beside it does.
setlocal
set "jar=%~dp0..\lotproof.jar"
if not exist "%jar%" set "jar=%~dp0target\lotproof.jar"
if not exist "%jar%" (
  echo lotproof: not built yet; run mvn -q -DskipTests package in the project's folder>&2
  exit /b 2
)
set "java=java"
if defined JAVA_HOME set "java=%JAVA_HOME%\bin\java"
rem Java's optimising compiler pays for simulations and large files only
set "compiler=-XX:TieredStopAtLevel=1"
for %%c in (import noise plan rehearse) do if "%~1"=="%%c" set "compiler="
for %%w in (%*) do call :size "%%~w"
"%java%" %compiler% -jar "%jar%" %*
exit /b %errorlevel%

:size
for %%f in ("%~1\readings.csv") do if exist "%%~f" if %%~zf gtr 4096000 set "compiler="
exit /b
