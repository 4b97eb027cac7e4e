import { render } from 'preact';
import { App } from './App.js';
import './look/sheet.css';
import { startKeeping } from './state/keeping.js';

render(<App />, document.getElementById('sheet')!);
void startKeeping();
