// The bundler puts imported styles into dist/view.css.
declare module '*.css';
