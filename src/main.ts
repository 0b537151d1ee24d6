import './app/linewright-page.ts'

document.body.append(document.createElement('linewright-page'))
